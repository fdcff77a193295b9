import { Findings, ScoreError } from "../../diagnostics.js";
import { timeIn } from "../chords/chord-spans.js";
import { chooseMelody } from "../lead-sheet/choose-melody.js";
import type { LineNote, MelodyLine } from "../lead-sheet/sung-line.js";
import type { WalkedPart } from "../timeline/walked-part.js";

/** Where the tune is in some measures: first and last position, from 1, and the part as the option melody names it. */
export interface LineInMeasures {
  readonly measures: readonly [number] | readonly [number, number];
  readonly melody: string;
}

/**
 * A line that goes to other parts for some measures; its bars, keys and meters stay those of its own part. Of
 * two wishes for one measure the later counts.
 *
 * @throws ScoreError where there is no such part, voice or measure
 */
export function wanderingLine(
  line: MelodyLine,
  parts: readonly WalkedPart[],
  wished: readonly LineInMeasures[],
): MelodyLine {
  let { notes } = line;
  for (const { measures, melody } of wished) {
    const [first, last = first] = measures;
    const count = line.part.measures.length;
    if (first > count || last > count || last < first) throw noSuchMeasures(first, last, count);
    const isThere = ({ measure }: LineNote) => measure >= first - 1 && measure <= last - 1;
    // What that part has besides the line is not worth saying a second time.
    const other = chooseMelody(parts, melody, undefined, new Findings());
    const there = other.notes
      .filter(isThere)
      .map((note): LineNote => ({ ...note, at: timeIn(line.part, note.from, note.atThere) }));
    notes = [...notes.filter((note) => !isThere(note)), ...there];
  }
  return { ...line, notes: notes.toSorted((one, other) => one.measure - other.measure) };
}

const noSuchMeasures = (first: number, last: number, count: number): ScoreError =>
  new ScoreError({
    rule: "wish-for-nothing",
    place: { measure: first },
    found: first === last ? `measure ${first}` : `measures ${first} to ${last}`,
    expected: `measures from 1 to ${count}, the first before the last`,
    message: `The melody cannot be taken from another part in measures ${first} to ${last}: the score has measures 1 to ${count}.`,
  });
