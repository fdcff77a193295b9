import { withElements, type XmlElement } from "../../xml/xml-tree.js";
import { divisionsIn } from "../mending/mended-times.js";
import { isDecimal, withOffset } from "../mending/symbol-at-time.js";
import { exactIn } from "../numbers/read-number.js";
import { ZERO } from "../timeline/exact-time.js";
import { byMeasure, type WalkedItem } from "../timeline/walked-part.js";
import { walkedAlone } from "../timeline/walked-score.js";

/**
 * A lead part with its chord symbols where the guitar plays them, in measures in which several stand on one
 * beat: nobody can read one printed over another. Where the guitar has more or fewer of them they stay.
 */
export function withSymbolsApart(lead: XmlElement, guitar: XmlElement): XmlElement {
  const part = walkedAlone(lead);
  const shared = [...byMeasure(part.harmonies)].filter(([, symbols]) => areOnOneBeat(symbols));
  if (shared.length === 0) return lead;
  const { harmonies, measures } = walkedAlone(guitar);
  const played = byMeasure(harmonies);
  const divisions = divisionsIn(part);
  const apart = new Map<XmlElement, XmlElement>();
  for (const [index, symbols] of shared) {
    const [here, there] = [part.measures[index], measures[index]];
    const others = played.get(index) ?? [];
    if (here === undefined || there === undefined || others.length !== symbols.length) continue;
    symbols.forEach(({ element, at }, place) => {
      const wanted = (others[place]?.at ?? at).sub(there.start).add(here.start);
      const moved = wanted.sub(at).mul(divisions.get(here.element) ?? ZERO);
      const offset = moved.add(exactIn(element, "offset") ?? ZERO);
      if (isDecimal(offset)) apart.set(element, withOffset(element, offset));
    });
  }
  return withElements(lead, (measure) => withElements(measure, (item) => apart.get(item) ?? item));
}

/** Whether some of a measure's chord symbols count at the same time. */
const areOnOneBeat = (symbols: readonly WalkedItem[]): boolean =>
  symbols.some(({ at }, index) => symbols[index - 1]?.at.equals(at) === true);
