import type { Finding } from "../../diagnostics.js";
import { midiOf } from "../../song/pitch.js";
import { childNamed } from "../../xml/xml-tree.js";
import { namesChord } from "../chords/read-harmony.js";
import { typedChords } from "../chords/typed-chords.js";
import { isSung } from "../lead-sheet/sung-line.js";
import { partNames } from "../timeline/partwise.js";
import { shiftAt } from "../timeline/transposition.js";
import { hasOwnMusic, type WalkedPart } from "../timeline/walked-part.js";

/** The part that the tune is taken from, and why. */
export interface FoundPart {
  readonly part: WalkedPart;
  readonly why: string;
}

/**
 * Which of several parts with notes to sing has the tune: the one under the chord symbols; where there are
 * none, the only one with words, else the one that lies highest. Of equal ones the first.
 */
export function standsOut(singing: readonly WalkedPart[]): FoundPart | undefined {
  const [first] = singing;
  if (first === undefined) return undefined;
  const underSymbols = singing.find(({ harmonies }) => harmonies.some(({ element }) => namesChord(element)));
  if (underSymbols !== undefined) return { part: underSymbols, why: "the chord symbols stand over it" };
  const underText = singing.find((part) => typedChords(part, [], "auto").items.length > 0);
  if (underText !== undefined) return { part: underText, why: "chords stand over it as text" };
  const withWords = singing.filter(hasWords);
  const [only] = withWords;
  if (only !== undefined && withWords.length === 1)
    return { part: only, why: "it is the only one with words" };
  const highest = (withWords.length > 0 ? withWords : singing).reduce((best, part) =>
    meanHeight(part) > meanHeight(best) ? part : best,
  );
  return { part: highest, why: "it lies highest" };
}

const hasWords = ({ notes }: WalkedPart): boolean =>
  notes.some((note) => isSung(note) && childNamed(note.element, "lyric") !== undefined);

/** Mean sounding pitch of the highest notes of a part, each as long as it lasts. */
function meanHeight(part: WalkedPart): number {
  let time = 0;
  let sum = 0;
  const tops = new Map<string, { midi: number; length: number }>();
  for (const note of part.notes) {
    if (!isSung(note) || note.written === undefined || !hasOwnMusic(part, note.staff)) continue;
    const midi = midiOf(note.written) + shiftAt(part.shifts, note.staff, note.at).chromatic;
    const key = note.at.toFraction();
    if (midi > (tops.get(key)?.midi ?? 0)) tops.set(key, { midi, length: note.length.valueOf() });
  }
  for (const { midi, length } of tops.values()) {
    time += length;
    sum += midi * length;
  }
  return time === 0 ? 0 : sum / time;
}

/** Which part the tune was taken from, why, and what else there was. */
export function melodyFound({ part, why }: FoundPart, singing: readonly WalkedPart[]): Finding {
  const others = partNames(singing.filter((other) => other !== part));
  return {
    rule: "melody-found",
    severity: "note",
    place: { part: part.id },
    found: `${singing.length} parts with notes to sing`,
    expected: "one melody",
    message: `The tune was taken from ${partNames([part])}, since ${why}; there ${singing.length === 2 ? "is" : "are"} also ${others}.`,
    hint: "Name another part with the option melody if the tune is there.",
  };
}
