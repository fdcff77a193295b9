import type { Arrangement } from "../arrangement/arrangement.js";
import { melodyRingsUntil } from "../arrangement/played-notes.js";
import type { SoundingString } from "../guitar/fingering.js";
import { measureIndexAt } from "../song/measure-place.js";
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
 * @param writtenIn How many notes of a measure may have been written with such a tie, for all that is on record.
 */
export function leftRinging(
  fresh: Arrangement,
  tune: Tune,
  returned: ReadonlyMap<number, readonly ReturnedNote[]>,
  writtenIn: (measure: number) => number,
): LeftRinging {
  const written = melodyRingsUntil(fresh);
  const came = cameIn();
  const gone = [...written.keys()].filter((index) => tieOf(index) === undefined);
  const areKnown = gone.length < written.size;
  // Where as many came back as were written, none was taken away: those arranged afresh are others.
  const cut = gone.filter((index) => {
    const measure = measureOfTie(endOf(index));
    return writtenIn(measure) > (came.get(measure) ?? 0);
  });
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
    const tied = (returned.get(note.onset) ?? []).find(
      ({ midi, isLeftRinging }) => isLeftRinging && midi === note.midi,
    );
    const isOurs =
      tied?.ringsUntil !== undefined || written.has(index) || writtenIn(measureOfTie(endOf(index))) > 0;
    return isOurs ? tied : undefined;
  }

  /** How many notes of each measure came with such a tie: with our id, where a program has left us any. */
  function cameIn(): ReadonlyMap<number, number> {
    const ringing = [...returned.values()].flat().filter(({ isLeftRinging }) => isLeftRinging);
    const ours = ringing.filter(({ ringsUntil }) => ringsUntil !== undefined);
    const counts = new Map<number, number>();
    for (const { end } of ours.length > 0 ? ours : ringing)
      counts.set(measureOfTie(end), (counts.get(measureOfTie(end)) ?? 0) + 1);
    return counts;
  }

  /** The measure that a note ends in: of one tied over a barline, the last piece has the tie. */
  function measureOfTie(end: number): number {
    return measureIndexAt(tune, Math.ceil(end) - 1);
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
