import type { Arrangement } from "../arrangement/arrangement.js";
import { melodyRingsUntil } from "../arrangement/played-notes.js";
import type { SoundingString } from "../guitar/fingering.js";
import type { Tune } from "../song/tune.js";
import type { ReturnedNote } from "./guitar-part-notes.js";

/** Melody notes that a guitar part was written to leave ringing, as they came back. */
export interface LeftRinging {
  /** Until when a melody note rings, in ticks; undefined where it does not. */
  readonly until: (melodyNote: number, place: SoundingString) => number | undefined;
  /** Until when it was written to ring; the start of the tune where it was not. */
  readonly writtenUntil: (melodyNote: number) => number;
  /** Whether the player took away the tie of a note that would ring at a tick. */
  readonly isCutAt: (tick: number) => boolean;
}

/**
 * What came back of the ties by which melody notes ring on. A tie that has lost its id says not until when: that is as
 * it was written in `fresh`, and where that knows nothing of it as long as the chord under it rings. Where none came
 * back, the program that had the score may not know them: then nobody need have taken them away.
 *
 * @param mayBeWrittenAt Whether the measure at a tick may have been written with such a tie, for all that is on record.
 */
export function leftRinging(
  fresh: Arrangement,
  tune: Tune,
  returned: ReadonlyMap<number, readonly ReturnedNote[]>,
  mayBeWrittenAt: (tick: number) => boolean,
): LeftRinging {
  const written = melodyRingsUntil(fresh);
  const gone = [...written.keys()].filter((index) => tieOf(index) === undefined);
  const areKnown = gone.length < written.size;
  const cut = gone.filter((index) => mayBeWrittenAt(tune.melody[index]?.onset ?? 0));
  return {
    until: (index, { string, fret }) => {
      const tie = tieOf(index);
      if (tie === undefined) return undefined;
      const place = fresh.melody[index];
      const isThere = place?.string === string && place.fret === fret;
      const until = tie.ringsUntil ?? (isThere ? written.get(index) : undefined);
      return until ?? asLongAsItsChord(tie, endOf(index));
    },
    writtenUntil: (index) => {
      const tie = tieOf(index);
      return tie?.ringsUntil ?? written.get(index) ?? (tie && asLongAsItsChord(tie, endOf(index))) ?? 0;
    },
    isCutAt: (tick) =>
      areKnown && cut.some((index) => tick >= endOf(index) && tick < (written.get(index) ?? endOf(index))),
  };

  /** A melody note as it came back, where it came with such a tie: one that a player drew is a mark of theirs. */
  function tieOf(index: number): ReturnedNote | undefined {
    const note = tune.melody[index];
    if (note === undefined) return undefined;
    const came = (returned.get(note.onset) ?? []).find(
      ({ midi, isLeftRinging }) => isLeftRinging && midi === note.midi,
    );
    const isOurs = came?.ringsUntil !== undefined || written.has(index) || mayBeWrittenAt(note.onset);
    return isOurs ? came : undefined;
  }

  /** Until a chord or its string is struck or what rang under it is over; undefined where that is over with the note. */
  function asLongAsItsChord({ string }: ReturnedNote, end: number): number | undefined {
    let rung = 0;
    let struckAt = Number.POSITIVE_INFINITY;
    for (const [at, here] of returned) {
      if (at < end) rung = Math.max(rung, ...here.map((one) => one.end));
      else if (here.length > 1 || here.some((one) => one.string === string))
        struckAt = Math.min(struckAt, at);
    }
    const until = Math.min(rung, struckAt);
    return until > end ? until : undefined;
  }

  function endOf(index: number): number {
    const note = tune.melody[index];
    return note === undefined ? 0 : note.onset + note.length;
  }
}
