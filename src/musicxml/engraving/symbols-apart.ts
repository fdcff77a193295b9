import { withElements, type XmlElement } from "../../xml/xml-tree.js";
import { divisionsIn } from "../mending/mended-times.js";
import { isDecimal, withOffset } from "../mending/symbol-at-time.js";
import { exactIn } from "../numbers/read-number.js";
import { ZERO } from "../timeline/exact-time.js";
import { byMeasure, type WalkedItem, type WalkedPart } from "../timeline/walked-part.js";

/**
 * A lead part with its chord symbols where the guitar plays them, in measures in which several stand on one
 * beat: nobody can read one printed over another. Where the guitar has more or fewer of them they stay.
 */
export function withSymbolsApart(lead: WalkedPart, guitar: WalkedPart): XmlElement {
  const played = byMeasure(guitar.harmonies);
  const divisions = divisionsIn(lead);
  const apart = new Map<XmlElement, XmlElement>();
  for (const [index, symbols] of byMeasure(lead.harmonies)) {
    const [here, there] = [lead.measures[index], guitar.measures[index]];
    const others = played.get(index) ?? [];
    if (here === undefined || there === undefined || others.length !== symbols.length) continue;
    if (!areOnOneBeat(symbols)) continue;
    symbols.forEach(({ element, at }, place) => {
      const wanted = (others[place]?.at ?? at).sub(there.start).add(here.start);
      const moved = wanted.sub(at).mul(divisions.get(here.element) ?? ZERO);
      const offset = moved.add(exactIn(element, "offset") ?? ZERO);
      if (isDecimal(offset)) apart.set(element, withOffset(element, offset));
    });
  }
  if (apart.size === 0) return lead.element;
  return withElements(lead.element, (measure) => withElements(measure, (item) => apart.get(item) ?? item));
}

/** Whether some of a measure's chord symbols count at the same time. */
const areOnOneBeat = (symbols: readonly WalkedItem[]): boolean =>
  symbols.some(({ at }, index) => symbols[index - 1]?.at.equals(at) === true);
