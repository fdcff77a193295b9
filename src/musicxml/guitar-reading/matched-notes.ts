import type { Quarters } from "../timeline/exact-time.js";
import type { StaffNote } from "./staff-notes.js";

/** One attack with what notation and TAB say of it; at least one of them is there. */
export interface MatchedNote {
  readonly notation: StaffNote | undefined;
  readonly tab: StaffNote | undefined;
}

export interface MatchedStaves {
  readonly notes: readonly MatchedNote[];
  /** Semitones by which the whole notation stands above the TAB. */
  readonly notationAboveTab: number;
}

/** Octaves by which a notation staff may stand off as a whole before its notes count as other notes. */
const WHOLE_STAFF_OFFSETS = [0, 12, -12, 24, -24];

/** Share of the moments that must stand off alike for the staff as a whole to do so. */
const NEARLY_ALL = 0.9;

/**
 * Pairs the notes of a notation staff with those of its TAB: of one moment those of one pitch, of several
 * such those of one length; then, from the top down, what is left of the moment on both sides.
 */
export function matchedNotes(notation: readonly StaffNote[], tab: readonly StaffNote[]): MatchedStaves {
  const moments = new Map<string, { notation: StaffNote[]; tab: StaffNote[] }>();
  const momentOf = (note: StaffNote) => {
    const key = `${note.kind} ${note.at.toFraction()}`;
    const moment = moments.get(key) ?? { notation: [], tab: [] };
    moments.set(key, moment);
    return moment;
  };
  for (const note of notation) momentOf(note).notation.push(note);
  for (const note of tab) momentOf(note).tab.push(note);
  const offset = wholeStaffOffset([...moments.values()]);
  const notes = [...moments.values()].flatMap((moment) =>
    moment.notation[0]?.kind === "grace" ? inOrder(moment) : byPitch(moment, offset),
  );
  return { notes, notationAboveTab: offset };
}

interface TwoStaves {
  readonly notation: readonly StaffNote[];
  readonly tab: readonly StaffNote[];
}

function wholeStaffOffset(moments: readonly TwoStaves[]): number {
  const tops = moments.flatMap(({ notation, tab }) =>
    notation.length === 0 || tab.length === 0
      ? []
      : [Math.max(...notation.map(({ midi }) => midi)) - Math.max(...tab.map(({ midi }) => midi))],
  );
  const found = WHOLE_STAFF_OFFSETS.find(
    (offset) => tops.filter((top) => top === offset).length >= NEARLY_ALL * tops.length,
  );
  return found ?? 0;
}

/** Grace notes of one moment follow one another as written. */
const inOrder = ({ notation, tab }: TwoStaves): readonly MatchedNote[] =>
  Array.from({ length: Math.max(notation.length, tab.length) }, (_, index) => ({
    notation: notation[index],
    tab: tab[index],
  }));

function byPitch({ notation, tab }: TwoStaves, offset: number): readonly MatchedNote[] {
  const left = new Set(tab);
  const take = (isWanted: (note: StaffNote) => boolean): StaffNote | undefined => {
    const found = [...left].find(isWanted);
    if (found !== undefined) left.delete(found);
    return found;
  };
  const exact = notation.map((note) => ({
    notation: note,
    tab: take((other) => note.midi === other.midi + offset && lasts(note, other.length)),
  }));
  const matched = exact.map((pair) =>
    pair.tab === undefined
      ? { ...pair, tab: take((other) => pair.notation.midi === other.midi + offset) }
      : pair,
  );
  const fromTop = (a: StaffNote, b: StaffNote) => b.midi - a.midi;
  const alone = matched.filter((pair) => pair.tab === undefined).map((pair) => pair.notation);
  const rest = inOrder({ notation: alone.sort(fromTop), tab: [...left].sort(fromTop) });
  return [...matched.filter((pair) => pair.tab !== undefined), ...rest];
}

const lasts = (note: StaffNote, length: Quarters): boolean => note.length.equals(length);
