import { CHORD_KINDS } from "../../harmony/chord-kinds.js";
import { type Indentation, withoutChildren } from "../../xml/indentation.js";
import {
  attributeOf,
  childNamed,
  element,
  elementsOf,
  textOf,
  withAttribute,
  withChildren,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";
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
    const { source, chord } = one;
    if (chord === undefined) return [];
    const text = textOfItem.get(source);
    if (text !== undefined)
      return kept.has(text)
        ? []
        : [{ placed: one, from: text, symbol: withAttribute(source, "relative-x", undefined) }];
    const time = times.get(source);
    const isMoved = time === undefined || !time.at.equals(one.at) || time.measure !== one.measure;
    const symbol = inListedWords(one);
    if (!isMoved && symbol === source) return [];
    const still = isMoved ? withAttribute(symbol, "relative-x", undefined) : symbol;
    return [{ placed: one, from: source, symbol: still }];
  });
}

/** The symbol with its kind one of MusicXML's and its root a letter; itself where they are. */
function inListedWords({ element: symbol, chord }: PlacedHarmony): XmlElement {
  const kind = childNamed(symbol, "kind");
  if (chord === undefined) return symbol;
  if (chord === "no-chord") {
    if (kind === undefined || textOf(kind).trim() === "none") return symbol;
    const none = element("kind", { text: attributeOf(kind, "text") ?? textOf(kind).trim() }, ["none"]);
    return withElements(symbol, (child) => (child === kind ? none : child));
  }
  const stated = kind === undefined ? "" : textOf(kind).trim();
  if (Object.hasOwn(CHORD_KINDS, stated) && stated === chord.kind) return symbol;
  // Nothing could be made of the kind: that is for a person to mend.
  if (chord.kind === "other") return symbol;
  const text =
    (kind && attributeOf(kind, "text")) ?? (stated === "" || stated === "other" ? undefined : stated);
  const listed = element("kind", { text }, [chord.kind]);
  const degrees = chord.degrees.map(({ type, value, alter }) =>
    element("degree", {}, [
      element("degree-value", {}, [value]),
      element("degree-alter", {}, [alter]),
      element("degree-type", {}, [type]),
    ]),
  );
  const others = elementsOf(symbol).filter(({ name }) => name !== "kind" && name !== "degree");
  const upTo = (names: readonly string[]) => others.filter(({ name }) => names.includes(name));
  const roots = upTo(["root", "numeral", "function"]);
  const basses = upTo(["inversion", "bass"]);
  const rest = others.filter((child) => !roots.includes(child) && !basses.includes(child));
  return withChildren(symbol, [...roots, listed, ...basses, ...degrees, ...rest]);
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
