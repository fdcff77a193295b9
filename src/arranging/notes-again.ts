import { chordIdentity } from "../harmony/chord-identity.js";
import type { Way } from "../search/choice-graph.js";
import { isPlayedAlike, type Passage } from "./played-alike.js";
import type { ArrangingProblem } from "./tune-problem.js";

/** Melody notes that are struck more than once over one chord, and not alike: each group the events of one such note. */
export function notesAgain(problem: ArrangingProblem, way: Way): readonly (readonly Passage[])[] {
  const notes = new Map<string, Passage[]>();
  for (const [column, { note, chord, isNoteOnset }] of problem.events.entries()) {
    if (note === undefined || chord === undefined || !isNoteOnset || !isStruck(problem, way, column))
      continue;
    const name = `${note.midi} ${chordIdentity(chord)}`;
    const again = notes.get(name) ?? [];
    again.push({ columns: [column] });
    notes.set(name, again);
  }
  return [...notes.values()].filter((again) => !isPlayedAlike(problem, way, again));
}

function isStruck({ columns }: ArrangingProblem, { choices }: Way, column: number): boolean {
  const there = columns[column];
  const row = choices[column] ?? 0;
  return there !== undefined && !there.isSung && there.isSingle[row] === 0 && there.isHeld[row] === 0;
}
