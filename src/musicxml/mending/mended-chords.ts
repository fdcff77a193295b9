import { type Indentation, withoutChildren } from "../../xml/indentation.js";
import { childNamed, elementsOf, withAttribute, withElements, type XmlElement } from "../../xml/xml-tree.js";
import type { PlacedHarmony } from "../chords/chord-spans.js";
import type { HarmonySource } from "../chords/harmony-source.js";
import { byMeasure } from "../timeline/walked-part.js";
import { divisionsIn } from "./mended-times.js";
import { anchorFor, isDecimal, withSymbol } from "./symbol-at-time.js";

/** A chord symbol that is to be written anew. */
interface Rewritten {
  readonly placed: PlacedHarmony;
  /** The `<harmony>`, direction or lyric that it takes the place of. */
  readonly from: XmlElement;
  readonly symbol: XmlElement;
}

/**
 * The measures of a part in which chord symbols stand otherwise than they were read, with symbols that say
 * it: typed ones as symbols, those of a shared beat on beats of their own, kinds and roots as MusicXML lists
 * them. What cannot be placed exactly stays as it is.
 *
 * @param measures what to change, by the measure as it was read
 */
export function withMendedChords(
  source: HarmonySource,
  placed: readonly PlacedHarmony[],
  measures: ReadonlyMap<XmlElement, XmlElement>,
  indentation: Indentation,
): ReadonlyMap<XmlElement, XmlElement> {
  const { part } = source;
  const notes = byMeasure(part.notes);
  const divisions = divisionsIn(part);
  const placeable = rewrittenIn(source, placed).map((one) => {
    const measure = part.measures[one.placed.measure]?.element;
    const unit = measure && divisions.get(measure);
    return { ...one, anchor: anchorFor(notes.get(one.placed.measure) ?? [], one.placed.at, unit) };
  });
  const stuck = new Set(placeable.flatMap(({ from, anchor }) => (isDecimal(anchor.offset) ? [] : [from])));
  const rewritten = byMeasureOf(placeable.filter(({ from }) => !stuck.has(from)));
  const leaving = new Set([...rewritten.values()].flat().map(({ from }) => from));
  const mended = new Map(measures);
  for (const { element: measure, index } of part.measures) {
    const here = rewritten.get(index) ?? [];
    if (here.length === 0 && !everyChild(measure).some((child) => leaving.has(child))) continue;
    let changed = mended.get(measure) ?? measure;
    for (const { symbol, anchor } of here)
      changed = withSymbol(changed, symbol, anchor, measure, indentation);
    mended.set(measure, withoutTexts(changed, leaving));
  }
  return mended;
}

const byMeasureOf = <One extends Rewritten>(all: readonly One[]): ReadonlyMap<number, readonly One[]> =>
  byMeasure(all.map((one) => ({ ...one, measure: one.placed.measure })));

function rewrittenIn({ part, typed }: HarmonySource, placed: readonly PlacedHarmony[]): readonly Rewritten[] {
  const textOfItem = new Map(typed.map(({ element: symbol, from }) => [symbol, from]));
  const times = new Map(part.harmonies.map(({ element: symbol, at, measure }) => [symbol, { at, measure }]));
  // A text goes only where all it names is written anew.
  const kept = new Set(
    placed.flatMap(({ source, chord }) => (chord === undefined ? (textOfItem.get(source) ?? []) : [])),
  );
  return placed.flatMap((one): readonly Rewritten[] => {
    const { element: symbol, source, chord } = one;
    if (chord === undefined) return [];
    const text = textOfItem.get(source);
    if (text !== undefined)
      return kept.has(text)
        ? []
        : [{ placed: one, from: text, symbol: withAttribute(source, "relative-x", undefined) }];
    const time = times.get(source);
    const isMoved = time === undefined || !time.at.equals(one.at) || time.measure !== one.measure;
    if (!isMoved && symbol === source) return [];
    const still = isMoved ? withAttribute(symbol, "relative-x", undefined) : symbol;
    return [{ placed: one, from: source, symbol: still }];
  });
}

/** Without the symbols and texts that were written anew elsewhere; a `<sound>` beside a text stays. */
function withoutTexts(measure: XmlElement, leaving: ReadonlySet<XmlElement>): XmlElement {
  const sounds = withElements(measure, (child) => {
    if (!leaving.has(child) || child.name !== "direction") return child;
    return childNamed(child, "sound") ?? child;
  });
  const whole = withoutChildren(sounds, (child) => leaving.has(child));
  return withElements(whole, (child) =>
    child.name === "note" && elementsOf(child).some((one) => leaving.has(one))
      ? withoutChildren(child, (one) => leaving.has(one))
      : child,
  );
}

/** The children of a measure, and the lyrics of its notes. */
const everyChild = (measure: XmlElement): readonly XmlElement[] =>
  elementsOf(measure).flatMap((child) => [child, ...(child.name === "note" ? elementsOf(child) : [])]);
