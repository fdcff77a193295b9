import { attributeOf, childrenNamed, childText } from "../../xml/xml-tree.js";
import type { OwnMark } from "../round-trip/provenance.js";
import type { WalkedPart } from "../timeline/walked-part.js";
import { type StaffNote, staffNotes } from "./staff-notes.js";

/** One staff of a score with its attacks. */
export interface ScoreStaff {
  readonly part: WalkedPart;
  readonly staff: string;
  readonly notes: readonly StaffNote[];
}

/** Which staves of a score are the guitar's; at least one of the two is there. */
export interface GuitarStaves {
  readonly notation: ScoreStaff | undefined;
  readonly tab: ScoreStaff | undefined;
  /** Other TAB staves: another guitar's, which is not read. */
  readonly otherTabs: readonly ScoreStaff[];
}

/** How much of a TAB staff another staff must hold to be the same music; fingers changed by hand leave more. */
const SAME_MUSIC = 0.5;
/** The same for moments alone, where pitches have been changed wholesale. */
const SAME_RHYTHM = 0.7;

/**
 * Finds the guitar in a score, whatever its parts are called and however they were merged, split or put in
 * another order: the TAB staff that the mark names, else the one with the most notes, and of the other staves the one that holds the same
 * notes. Without TAB, the staff that shows strings or fingers, else the one with the most notes.
 */
export function guitarStaves(
  parts: readonly WalkedPart[],
  mark: OwnMark | undefined,
): GuitarStaves | undefined {
  const staves = parts.flatMap(stavesOf);
  const tabs = tabStaves(staves, mark);
  const tab = most(tabs, ({ part, notes }) => [
    Number(mark?.parts.includes(part.id)),
    notes.filter(isPlaced).length,
    notes.length,
  ]);
  const notations = staves.filter((staff) => !tabs.includes(staff));
  if (tab !== undefined) {
    // Written as TAB alone: what plays the same beside it is the lead sheet, however much of it there is.
    const isAlone = mark?.options.staves === "tab" && mark.parts.includes(tab.part.id);
    const notation = isAlone ? undefined : notationOf(tab, notations, parts, mark);
    return { notation, tab, otherTabs: tabs.filter((other) => other !== tab) };
  }
  const notation = most(notations, (staff) => [
    staff.notes.filter(isPlaced).length,
    staff.notes.filter(({ finger }) => finger !== undefined).length,
    Number(staff.part.id === mark?.parts[0]),
    staff.notes.length,
  ]);
  return notation === undefined ? undefined : { notation, tab: undefined, otherTabs: [] };
}

function stavesOf(part: WalkedPart): readonly ScoreStaff[] {
  const numbers = new Set(part.notes.filter(({ kind }) => kind === "note").map(({ staff }) => staff));
  return [...numbers]
    .map((staff) => ({ part, staff, notes: staffNotes(part, staff) }))
    .filter(({ notes }) => notes.length > 0)
    .sort((a, b) => Number(a.staff) - Number(b.staff));
}

/**
 * Staves with a TAB clef; where the score has none, those that are called another's alternate or have their lines
 * tuned; and where all that went with its first measure, those of ours that give a place for every note.
 */
function tabStaves(staves: readonly ScoreStaff[], mark: OwnMark | undefined): readonly ScoreStaff[] {
  const signs = [
    hasTabClef,
    ({ part, staff }: ScoreStaff) => part.copyStaves.has(staff),
    ({ part, notes }: ScoreStaff) => mark?.parts.includes(part.id) === true && notes.every(isPlaced),
  ];
  return signs.map((sign) => staves.filter(sign)).find((found) => found.length > 0) ?? [];
}

const hasTabClef = ({ part, staff }: ScoreStaff): boolean =>
  part.attributes.some(({ element }) =>
    childrenNamed(element, "clef").some(
      (clef) => childText(clef, "sign") === "TAB" && (attributeOf(clef, "number")?.trim() || "1") === staff,
    ),
  );

const isPlaced = ({ string, fret }: StaffNote): boolean => string !== undefined && fret !== undefined;

/**
 * The staff that shows what a TAB staff shows: another staff of its part, or one of another part that has
 * its notes and its chords, not the tune alone.
 */
function notationOf(
  tab: ScoreStaff,
  candidates: readonly ScoreStaff[],
  parts: readonly WalkedPart[],
  mark: OwnMark | undefined,
): ScoreStaff | undefined {
  const likenesses = candidates.map((staff) => ({ staff, ...likeness(staff, tab) }));
  const isNextTo = ({ part }: ScoreStaff) => Math.abs(parts.indexOf(part) - parts.indexOf(tab.part)) === 1;
  const isMarked = ({ part }: ScoreStaff) =>
    mark?.parts.length === 2 && mark.parts[1] === tab.part.id && mark.parts[0] === part.id;
  const isFingered = ({ notes }: ScoreStaff) => notes.some(({ finger }) => finger !== undefined);
  const isOpen = tab.notes.every(({ fret }) => fret === 0);
  // What the mark names counts as long as it looks like ours, where there is a finger to show: ids may have been given anew.
  const isOurs = (staff: ScoreStaff) => isMarked(staff) && (isFingered(staff) || isOpen);
  // Where there is nothing but what the mark names, nothing else can be the notation, however little of it is left.
  const isNoneBeside = candidates.every(({ part }) => mark?.parts.includes(part.id));
  const accepted = likenesses.filter(({ staff, notes, chords, moments }) => {
    if (isNoneBeside || isOurs(staff) || (chords >= SAME_MUSIC && notes >= SAME_MUSIC)) return true;
    const isGuitarLike = isFingered(staff) || isMarked(staff);
    return isGuitarLike && moments >= SAME_RHYTHM && (staff.part === tab.part || isNextTo(staff));
  });
  return most(accepted, ({ staff, notes, moments }) => [
    Number(isOurs(staff)),
    Number(staff.part === tab.part && notes > 0),
    notes,
    moments,
    staff.notes.filter(({ finger }) => finger !== undefined).length,
    Number(isNextTo(staff)),
  ])?.staff;
}

/** Shares of a TAB staff's notes, of those under its top line, and of its moments that another staff has too. */
function likeness(staff: ScoreStaff, tab: ScoreStaff) {
  const own = new Set(staff.notes.map((note) => pitchKey(staff, note)));
  const ownMoments = new Set(staff.notes.map((note) => momentKey(staff, note)));
  const tops = new Map<string, number>();
  for (const note of tab.notes) {
    const key = momentKey(tab, note);
    tops.set(key, Math.max(note.midi, tops.get(key) ?? note.midi));
  }
  const under = tab.notes.filter((note) => note.midi !== tops.get(momentKey(tab, note)));
  const share = (notes: readonly StaffNote[], isShared: (note: StaffNote) => boolean) =>
    notes.length === 0 ? 1 : notes.filter(isShared).length / notes.length;
  const hasNote = (note: StaffNote) => own.has(pitchKey(tab, note));
  return {
    notes: share(tab.notes, hasNote),
    chords: share(under, hasNote),
    moments: share(tab.notes, (note) => ownMoments.has(momentKey(tab, note))),
  };
}

/** Where a note stands in its bar, whatever the bars before it last in its own part. */
const momentKey = ({ part }: ScoreStaff, { at, measure }: StaffNote): string =>
  `${measure} ${at.sub(part.measures[measure]?.start ?? 0).toFraction()}`;

/** Octaves are left out: a staff may have come back an octave higher than it went. */
const pitchKey = (staff: ScoreStaff, note: StaffNote): string =>
  `${momentKey(staff, note)} ${note.midi % 12}`;

/** The first of those that none surpasses, compared number by number. */
function most<Item>(items: readonly Item[], rank: (item: Item) => readonly number[]): Item | undefined {
  let best: { readonly item: Item; readonly ranks: readonly number[] } | undefined;
  for (const item of items) {
    const ranks = rank(item);
    if (best === undefined || surpasses(ranks, best.ranks)) best = { item, ranks };
  }
  return best?.item;
}

function surpasses(one: readonly number[], other: readonly number[]): boolean {
  for (const [index, value] of one.entries()) {
    const difference = value - (other[index] ?? 0);
    if (difference !== 0) return difference > 0;
  }
  return false;
}
