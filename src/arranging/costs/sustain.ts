import type { Candidate } from "../candidate.js";
import { noteNumber, type PackedColumn, ringingNotes } from "../packed-column.js";

/**
 * For a candidate of which something rings on, the few that can come before it; undefined for one that any may
 * come before. The melody note rings on at the same string, fret and finger. Supporting notes that ring on are
 * all that can of what sounded, and in a player's own grip at least sounded under the same fingers.
 *
 * @param melodyRingsOn The melody note began at the earlier event.
 */
export function ringingSources(
  earlier: PackedColumn,
  later: PackedColumn,
  isNext: boolean,
  melodyRingsOn: boolean,
): (to: number) => readonly number[] | undefined {
  const found: (readonly number[] | undefined)[] = Array.from({ length: later.size });
  const sources = (to: number): readonly number[] => {
    const underMelody = melodyRingsOn ? earlier.withMelody(later.melody[to] ?? -1) : undefined;
    if (later.ringsFromBefore[to] === 0) return underMelody ?? NONE;
    const holders = isNext ? holdersOf(earlier, later.candidates[to]) : NONE;
    return underMelody === undefined ? holders : holders.filter((row) => underMelody.includes(row));
  };
  return (to) => {
    if (later.ringsFromBefore[to] === 0 && !melodyRingsOn) return undefined;
    found[to] ??= sources(to);
    return found[to];
  };
}

const NONE: readonly number[] = [];

/** The candidates that sound what rings on in another. */
function holdersOf(earlier: PackedColumn, ringing: Candidate | undefined): readonly number[] {
  if (ringing === undefined) return NONE;
  if (ringing.heldFrom !== undefined) {
    const holders: number[] = [];
    for (const name of ringing.heldFrom) holders.push(...earlier.withSupports(name));
    return holders;
  }
  const notes = ringingNotes(ringing);
  return earlier.candidates.flatMap((one, row) => {
    const sounding = one.supports.strings.map(({ string, fret }, index) =>
      noteNumber(string, fret, one.supports.fingers[index] ?? 0),
    );
    return notes.every((note) => sounding.includes(note)) ? [row] : [];
  });
}
