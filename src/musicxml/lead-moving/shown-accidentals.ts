import { Findings } from "../../diagnostics.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  element,
  elementsOf,
  withChildren,
  withElements,
  withoutChildrenNamed,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { keyAt, writtenKeys } from "../chords/keys.js";
import { alterInKey, SIGNS } from "../guitar-writing/accidentals.js";
import { walkPart } from "../timeline/walk-part.js";
import { byMeasure, type WalkedNote, type WalkedPart } from "../timeline/walked-part.js";

/**
 * A part whose notes have been moved, with the accidentals that its keys now ask for. What is shown as a
 * reminder, or in brackets, is still shown.
 */
export function withAccidentals(part: XmlElement): XmlElement {
  const walked = walkPart({ id: "", name: "", element: part }, new Findings());
  const signs = signsIn(walked);
  return withElements(part, (measure) =>
    withElements(measure, (note) => {
      const sign = signs.get(note);
      return sign === undefined ? note : withSign(note, sign);
    }),
  );
}

/** The sign of each pitched note; empty text where it has none. */
function signsIn(part: WalkedPart): ReadonlyMap<XmlElement, string> {
  const signs = new Map<XmlElement, string>();
  const staves = new Set(part.notes.map(({ staff }) => staff));
  for (const staff of staves) {
    const keys = writtenKeys(part, staff, new Findings());
    const here = byMeasure(part.notes.filter((note) => note.staff === staff && note.written !== undefined));
    for (const notes of here.values()) signsOfMeasure(notes, (note) => keyAt(keys, note.at), signs);
  }
  return signs;
}

function signsOfMeasure(
  notes: readonly WalkedNote[],
  keyOf: (note: WalkedNote) => { readonly fifths: number },
  signs: Map<XmlElement, string>,
): void {
  const altered = new Map<string, number>();
  for (const note of notes.toSorted((one, other) => one.at.compare(other.at))) {
    const { written } = note;
    const sign = written && SIGNS[written.alter];
    if (written === undefined || sign === undefined) continue;
    const place = `${written.letter}${written.octave}`;
    const before = altered.get(place) ?? alterInKey(written.letter, { at: 0, ...keyOf(note) });
    const isTiedTo = childrenNamed(note.element, "tie").some((tie) => attributeOf(tie, "type") === "stop");
    signs.set(note.element, isReminder(note.element) || (before !== written.alter && !isTiedTo) ? sign : "");
    if (!isTiedTo) altered.set(place, written.alter);
  }
}

const isReminder = (note: XmlElement): boolean => {
  const shown = childNamed(note, "accidental");
  return (
    shown !== undefined &&
    ["cautionary", "editorial", "parentheses", "bracket"].some((name) => attributeOf(shown, name) === "yes")
  );
};

/** What stands before the accidental of a note in the standard. */
const BEFORE = new Set([
  ..."grace cue chord pitch unpitched rest duration tie instrument footnote level voice type dot".split(" "),
]);

function withSign(note: XmlElement, sign: string): XmlElement {
  const shown = childNamed(note, "accidental");
  if (sign === "") return shown === undefined ? note : withoutChildrenNamed(note, "accidental");
  const accidental = element("accidental", {}, [sign]);
  if (shown !== undefined)
    return withElements(note, (child) =>
      child === shown ? withChildren(child, accidental.children) : child,
    );
  const after = elementsOf(note).find(({ name }) => !BEFORE.has(name));
  const at = after === undefined ? note.children.length : note.children.indexOf(after);
  const lineBreak = note.children[at - 1];
  const isOnLine = lineBreak?.kind === "text";
  const before = note.children.slice(0, at);
  return withChildren(note, [
    ...before,
    accidental,
    ...(isOnLine ? [lineBreak] : []),
    ...note.children.slice(at),
  ]);
}
