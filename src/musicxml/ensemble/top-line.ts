import { midiOf, type Pitch } from "../../song/pitch.js";
import { timeIn } from "../chords/chord-spans.js";
import { isSung, type LineNote, type MelodyLine, TOP } from "../lead-sheet/sung-line.js";
import { shiftAt } from "../timeline/transposition.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";
import { linesOf } from "./lines-of-part.js";

/** The highest notes of several lines of one part. */
export const topLine = (
  part: WalkedPart,
  staff: string,
  lines: readonly (readonly WalkedNote[])[],
): MelodyLine => ({
  part,
  staff,
  voice: TOP,
  notes: highest(lines.flat().map((note): LineNote => ({ ...note, from: part, atThere: note.at }))),
});

/** The highest notes of all parts, in the bars of the first. */
export function topOfAll(bars: WalkedPart, others: readonly WalkedPart[]): MelodyLine {
  const notes = [bars, ...others].flatMap((part) =>
    linesOf(part)
      .flat()
      .map((note): LineNote => ({ ...note, at: timeIn(bars, part, note.at), from: part, atThere: note.at })),
  );
  return { part: bars, staff: "1", voice: TOP, notes: highest(notes) };
}

/**
 * What is highest at any time: a note that begins under a higher one is not in it, one that a higher note
 * comes over ends there.
 */
function highest(notes: readonly LineNote[]): readonly LineNote[] {
  const inTime = notes
    .filter(isSung)
    .toSorted((one, other) => one.at.compare(other.at) || soundingMidi(other) - soundingMidi(one));
  const top: LineNote[] = [];
  for (const note of inTime) {
    const before = top.at(-1);
    const sounds = before?.at.add(before.length).gt(note.at) === true;
    if (before !== undefined && sounds) {
      if (soundingMidi(before) >= soundingMidi(note)) continue;
      top[top.length - 1] = { ...before, length: note.at.sub(before.at), startsTie: false };
    }
    top.push(note);
  }
  return top;
}

function soundingMidi({ written, from, staff, atThere }: LineNote): number {
  const pitch: Pitch = written ?? { letter: "C", alter: 0, octave: -1 };
  return midiOf(pitch) + shiftAt(from.shifts, staff, atThere).chromatic;
}
