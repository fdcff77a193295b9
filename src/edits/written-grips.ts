import type { ArrangedEvent, Arrangement } from "../arrangement/arrangement.js";
import type { Tune } from "../song/tune.js";
import type { WishedString } from "../wishes/wishes.js";
import type { FingeredNote } from "./fingered.js";

/** A note of a grip as a wish puts it. */
export const wishedString = ({ string, fret, finger }: FingeredNote, isHeld: boolean): WishedString => ({
  string,
  fret,
  ...(finger === undefined ? {} : { finger }),
  ...(isHeld ? { isHeld } : {}),
});

/** What sounds at an event of an arrangement, low to high. */
export function writtenGrip(
  arrangement: Arrangement,
  event: ArrangedEvent | undefined,
  tune: Tune,
): readonly WishedString[] {
  if (event === undefined) return [];
  const supports = event.supports
    .map((index) => arrangement.supports[index])
    .filter((note) => note !== undefined)
    .map(({ string, fret, finger, onset, leftByMelody }) => ({
      string,
      fret,
      finger,
      ...(onset < event.onset || leftByMelody !== undefined ? { isHeld: true } : {}),
    }));
  const note = event.melodyNote === undefined ? undefined : tune.melody[event.melodyNote];
  const place = note === undefined ? undefined : arrangement.melody[note.index];
  return [...supports, ...(place === undefined ? [] : [place])].toSorted((a, b) => b.string - a.string);
}

/** A finger that is left free is no difference. */
export const isSameGrip = (written: readonly WishedString[], returned: readonly WishedString[]): boolean =>
  written.length === returned.length &&
  written.every((one, index) => {
    const other = returned[index];
    return (
      one.string === other?.string &&
      one.fret === other.fret &&
      (one.isHeld ?? false) === (other.isHeld ?? false) &&
      (other.finger === undefined || one.finger === other.finger)
    );
  });
