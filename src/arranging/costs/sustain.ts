import { areAllSung } from "../grips/candidate.js";
import { NO_MELODY, noteNumber } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";

/**
 * For a candidate of which something rings on, the few that can come before it; undefined for one that any may
 * come before. The melody note rings on at the same string, fret and finger. Supporting notes that ring on are
 * all that can of what sounded, and in a player's own grip at least sounded under the same fingers; the melody note
 * of before may be one of them.
 *
 * @param melodyRingsOn The melody note began at the earlier event.
 */
export function ringingSources(
  earlier: PackedColumn,
  later: PackedColumn,
  isNext: boolean,
  melodyRingsOn: boolean,
): (to: number) => readonly number[] | undefined {
  const found: (readonly number[] | undefined)[] = new Array(later.size);
  const ofNotes = new Map<string, readonly number[]>();
  const sources = (to: number): readonly number[] => {
    const underMelody = melodyRingsOn ? earlier.withMelody(later.melody[to] ?? NO_MELODY) : undefined;
    if (later.ringsFromBefore[to] === 0) return underMelody ?? NONE;
    const holders = isNext ? holdersOf(earlier, later, to, melodyRingsOn, ofNotes) : NONE;
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
function holdersOf(
  earlier: PackedColumn,
  later: PackedColumn,
  ringing: number,
  melodyRingsOn: boolean,
  ofNotes: Map<string, readonly number[]>,
): readonly number[] {
  const heldFrom = later.heldFromAt(ringing);
  if (heldFrom !== undefined) {
    const withName = later.keepsMelody[ringing] === 1 ? earlier.withNotes : earlier.withSupports;
    // Most ring on from one grip alone, whose list is there.
    if (heldFrom.length === 1) return withName(heldFrom[0] ?? "");
    const holders: number[] = [];
    for (const name of heldFrom) for (const row of withName(name)) holders.push(row);
    return holders;
  }
  const notes = later.ringingNotesAt(ringing);
  // A voice that is sung goes on as itself; a player may leave the finger on a melody note.
  const mayKeepMelody = !melodyRingsOn && !areAllSung(later.linesAt(ringing));
  // Of many grips the same few notes ring on.
  const key = `${notes} ${mayKeepMelody}`;
  const holders = ofNotes.get(key) ?? rowsThatSound(notes, earlier, mayKeepMelody);
  ofNotes.set(key, holders);
  return holders;
}

/** The candidates that have all of some notes among their supporting ones, or with their melody note. */
function rowsThatSound(
  notes: readonly number[],
  column: PackedColumn,
  withMelody: boolean,
): readonly number[] {
  const rows: number[] = [];
  for (let row = 0; row < column.size; row += 1) {
    const { strings, fingers } = column.supportsAt(row);
    const sounding = strings.map(({ string, fret }, index) => noteNumber(string, fret, fingers[index] ?? 0));
    if (withMelody) sounding.push(column.melody[row] ?? NO_MELODY);
    if (notes.every((note) => sounding.includes(note))) rows.push(row);
  }
  return rows;
}
