import type { GuitarNote } from "../../guitar/guitar-score.js";

/**
 * Fingers are not printed again where they stay, and some programs keep only what is printed: a note on a
 * string and fret that sounded the moment before has the finger it had then. `notes` are in time order.
 */
export function withFingersThatStay(notes: readonly GuitarNote[]): readonly GuitarNote[] {
  let moment = Number.NEGATIVE_INFINITY;
  let before: readonly GuitarNote[] = [];
  let struck: GuitarNote[] = [];
  return notes.map((note) => {
    if (note.kind === "grace") return note;
    if (note.onset > moment) {
      before = [...before.filter(({ onset, length }) => onset + length > moment), ...struck];
      struck = [];
      moment = note.onset;
    }
    const isSilent = note.finger === undefined && note.string !== undefined && note.fret !== undefined;
    const same = isSilent
      ? before.findLast(({ string, fret }) => string === note.string && fret === note.fret)
      : undefined;
    const fingered = same === undefined ? note : { ...note, finger: same.finger };
    struck.push(fingered);
    return fingered;
  });
}
