import { type Indentation, withAppended, withInserted } from "../../xml/indentation.js";
import {
  childNamed,
  element,
  elementsOf,
  withChildren,
  withElements,
  withoutChildrenNamed,
  type XmlElement,
} from "../../xml/xml-tree.js";
import type { Quarters } from "../timeline/exact-time.js";
import type { WalkedNote } from "../timeline/walked-part.js";

/** The note that a symbol is written before, and how far after its start it counts, in divisions. */
export interface Anchor {
  readonly note: XmlElement | undefined;
  readonly offset: Quarters | undefined;
}

/** Where in a measure a symbol of some time goes; `notes` are those of the measure. */
export function anchorFor(
  notes: readonly WalkedNote[],
  at: Quarters,
  divisions: Quarters | undefined,
): Anchor {
  const begins = notes.find((note) => note.at.equals(at) && childNamed(note.element, "chord") === undefined);
  if (begins !== undefined) return { note: begins.element, offset: undefined };
  const before = notes.filter((note) => note.at.lt(at) && childNamed(note.element, "chord") === undefined);
  const sounding = before.findLast((note) => note.at.add(note.length).gt(at)) ?? before.at(-1) ?? notes[0];
  return {
    note: sounding?.element,
    offset:
      divisions === undefined || sounding === undefined ? undefined : at.sub(sounding.at).mul(divisions),
  };
}

/** A measure with a symbol in it; `asRead` is the measure that the anchor was found in. */
export function withSymbol(
  measure: XmlElement,
  symbol: XmlElement,
  { note, offset }: Anchor,
  asRead: XmlElement,
  indentation: Indentation,
): XmlElement {
  const notesOf = (parent: XmlElement) => elementsOf(parent).filter(({ name }) => name === "note");
  // Durations may have been mended: the note is found by its place.
  const anchor = note === undefined ? undefined : notesOf(measure)[notesOf(asRead).indexOf(note)];
  const timed = withoutBlanks(withOffset(symbol, offset));
  return anchor === undefined
    ? withAppended(measure, [timed], indentation, 2)
    : withInserted(measure, anchor, [timed], indentation, 2);
}

/** Without the line breaks of where it stood. */
const withoutBlanks = (parent: XmlElement): XmlElement =>
  elementsOf(parent).length === 0
    ? parent
    : withElements(withChildren(parent, elementsOf(parent)), withoutBlanks);

/** A chord symbol that counts so many divisions after where it is written; `<offset>` stands before `<staff>`, after all that says what the chord is. */
export function withOffset(symbol: XmlElement, offset: Quarters | undefined): XmlElement {
  const plain = withoutChildrenNamed(symbol, "offset");
  if (offset === undefined || offset.n === 0n) return plain;
  const children = elementsOf(plain);
  const staff = children.filter(({ name }) => name === "staff");
  const others = children.filter(({ name }) => name !== "staff");
  return withChildren(plain, [...others, element("offset", {}, [offset.toString()]), ...staff]);
}

/** Whether a number can be written as a decimal: nothing but twos and fives divide it. */
export function isDecimal(value: Quarters | undefined): boolean {
  let rest = value?.d ?? 1n;
  while (rest % 2n === 0n) rest /= 2n;
  while (rest % 5n === 0n) rest /= 5n;
  return rest === 1n;
}
