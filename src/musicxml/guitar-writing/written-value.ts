import { childNamed, childrenNamed, childText, elementsOf, type XmlElement } from "../../xml/xml-tree.js";
import { MOST_DOTS_READ } from "../numbers/number-limits.js";
import { numberIn } from "../numbers/read-number.js";
import { isNoteType, type NoteValue, type TupletRatio } from "./note-value.js";

/** The value a `<note>` states by its type, dots and time-modification; undefined where it has no type, or dots past counting. */
export function writtenValue(note: XmlElement | undefined): NoteValue | undefined {
  const type = note && childText(note, "type");
  if (note === undefined || type === undefined || !isNoteType(type)) return undefined;
  const dots = childrenNamed(note, "dot").length;
  return dots > MOST_DOTS_READ ? undefined : { type, dots, ratio: writtenRatio(note) };
}

/** The ratio a `<note>` states; undefined where there is none or it changes nothing. */
export function writtenRatio(note: XmlElement | undefined): TupletRatio | undefined {
  const modification = note && childNamed(note, "time-modification");
  if (modification === undefined) return undefined;
  const actual = numberIn(modification, "actual-notes");
  const normal = numberIn(modification, "normal-notes");
  if (actual === undefined || normal === undefined || actual === normal) return undefined;
  return { actual, normal };
}

/**
 * The `<note>` that carries lyrics, beams and tuplets for a note: itself, or the first of its chord.
 *
 * @param measure the measure that the note stands in
 */
export function mainNoteOf(note: XmlElement, measure: XmlElement): XmlElement {
  if (childNamed(note, "chord") === undefined) return note;
  const notes = elementsOf(measure).filter((child) => child.name === "note");
  for (let index = notes.indexOf(note); index > 0; index--) {
    const before = notes[index - 1];
    if (before !== undefined && childNamed(before, "chord") === undefined) return before;
  }
  return note;
}
