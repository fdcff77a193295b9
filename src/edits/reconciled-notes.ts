import type { PlayedNote } from "../arrangement/played-notes.js";
import type { Finger } from "../guitar/grip.js";
import { midiText } from "../song/pitch.js";
import type { ReturnedNote } from "./guitar-part-notes.js";
import { isLone } from "./lone-notes.js";

/** What a note of the guitar part that came is taken for. */
export interface ReconciledNote {
  readonly onset: number;
  readonly end: number;
  readonly midi: number;
  /** undefined where the pitch was changed and the TAB has to follow. */
  readonly place: { readonly string: number; readonly fret: number } | undefined;
  /** String that the note had; the first to be tried where there is no place. */
  readonly nearString: number | undefined;
  readonly finger: Finger | undefined;
  /** The finger was written for another place and gives way where the hand cannot keep it. */
  readonly isFingerStale: boolean;
  /** The finger is not the one that was written. */
  readonly isFingerChanged: boolean;
  readonly isMelody: boolean;
}

/** What one moment of the guitar part is taken for, and where its staves could not be brought together. */
export interface ReconciledMoment {
  /** undefined where the melody note is not there: the moment is arranged anew. */
  readonly notes: readonly ReconciledNote[] | undefined;
  readonly disputes: readonly Dispute[];
  /** The notation has the tune's note and the TAB still another. */
  readonly isTabBehindMelody: boolean;
}

/** contradiction: both staves were changed. melody: the guitar's melody note was changed, the tune's was not. */
export interface Dispute {
  readonly kind: "contradiction" | "melody";
  readonly found: string;
  readonly taken: string;
}

/** What is known of the staves that came. */
export interface ReturnedStaves {
  readonly hasNotation: boolean;
  readonly hasTab: boolean;
  /** Whether a note that stands on one of them was written on both; undefined where that is not known. */
  readonly wasWritten: (note: ReturnedNote) => boolean | undefined;
}

/**
 * Settles one moment from what notation and TAB say and what was written before: notation changed, its
 * pitch wins and the TAB follows; TAB changed, its place wins; both changed and contradictory, the
 * notation wins and that is said. `melodyMidi` is the note of the tune that begins here, if one does.
 */
export function reconciledMoment(
  returned: readonly ReturnedNote[],
  written: readonly PlayedNote[],
  melodyMidi: number | undefined,
  staves: ReturnedStaves,
): ReconciledMoment {
  const melody = melodyMidi === undefined ? undefined : melodyAmong(returned, melodyMidi);
  if (melodyMidi !== undefined && melody === undefined)
    return { notes: undefined, disputes: [], isTabBehindMelody: false };
  const disputes: Dispute[] = [];
  const notes: ReconciledNote[] = [];
  if (melody !== undefined && melodyMidi !== undefined) {
    const before = written.find((note) => note.isMelody);
    notes.push(reconciledMelody(melody, before, melodyMidi));
    if (melodyIsDisputed(melody, melodyMidi))
      disputes.push({ kind: "melody", found: saysText(melody), taken: midiText(melodyMidi) });
  }
  const others = returned.filter((note) => note !== melody);
  const matches = matchedToWritten(
    others,
    written.filter((note) => !note.isMelody),
  );
  for (const note of others) {
    const reconciled = reconciledSupport(note, matches.get(note), staves);
    if (reconciled === "gone") continue;
    notes.push(reconciled.note);
    if (reconciled.isDisputed)
      disputes.push({ kind: "contradiction", found: saysText(note), taken: midiText(reconciled.note.midi) });
  }
  const isTabBehindMelody =
    melody?.notationMidi === melodyMidi && melody?.placeMidi !== undefined && melody.placeMidi !== melodyMidi;
  return { notes, disputes, isTabBehindMelody };
}

/** The note that is the tune's: that whose every statement is its pitch, else one that has one such. */
function melodyAmong(returned: readonly ReturnedNote[], midi: number): ReturnedNote | undefined {
  const agreeing = (note: ReturnedNote) => statements(note).filter((said) => said === midi).length;
  const [best] = returned
    .filter((note) => agreeing(note) > 0)
    .toSorted(
      (a, b) => Number(isAgreed(b)) - Number(isAgreed(a)) || agreeing(b) - agreeing(a) || b.midi - a.midi,
    );
  return best;
}

const melodyIsDisputed = (note: ReturnedNote, midi: number): boolean =>
  [note.notationMidi, note.placeMidi].some((said) => said !== undefined && said !== midi);

function reconciledMelody(
  returned: ReturnedNote,
  before: PlayedNote | undefined,
  midi: number,
): ReconciledNote {
  const isPlaced = returned.placeMidi === midi;
  // Without TAB the place is the one that was written.
  const place = isPlaced ? placeOf(returned) : before?.midi === midi ? placeOf(before) : undefined;
  return reconciled(returned, before, midi, place, true);
}

/** What the notes of a moment were before: by place, then by pitch, then by string, then what alone is left. */
function matchedToWritten(
  returned: readonly ReturnedNote[],
  written: readonly PlayedNote[],
): ReadonlyMap<ReturnedNote, PlayedNote> {
  const matches = new Map<ReturnedNote, PlayedNote>();
  const left = new Set(written);
  const match = (isSame: (one: ReturnedNote, other: PlayedNote) => boolean) => {
    for (const note of returned) {
      if (matches.has(note)) continue;
      const found = [...left].find((other) => isSame(note, other));
      if (found === undefined) continue;
      matches.set(note, found);
      left.delete(found);
    }
  };
  match((note, other) => isSamePlace(note, other) && statements(note).includes(other.midi));
  match((note, other) => note.notationMidi === other.midi);
  match(isSamePlace);
  match((note, other) => note.tabMidi === other.midi);
  match((note, other) => note.string === other.string);
  const [only, ...more] = returned.filter((note) => !matches.has(note));
  const [last, ...others] = left;
  if (only !== undefined && more.length === 0 && last !== undefined && others.length === 0)
    matches.set(only, last);
  return matches;
}

function reconciledSupport(
  returned: ReturnedNote,
  before: PlayedNote | undefined,
  { hasNotation, hasTab, wasWritten }: ReturnedStaves,
): "gone" | { readonly note: ReconciledNote; readonly isDisputed: boolean } {
  const isAsBefore =
    before !== undefined && (returned.notationMidi === before.midi || isSamePlace(returned, before));
  // On one staff only and written on both: deleted on the other.
  if (hasNotation && hasTab && isLone(returned) && (wasWritten(returned) ?? isAsBefore)) return "gone";
  const place = placeOf(returned);
  const keep = (midi: number, where: ReconciledNote["place"], isDisputed = false) => ({
    note: reconciled(returned, before, midi, where, false),
    isDisputed,
  });
  if (isAgreed(returned)) {
    if (returned.placeMidi !== undefined) return keep(returned.midi, place);
    // No TAB says where: the place that was written, if the pitch is what it was.
    return keep(returned.midi, before?.midi === returned.midi ? placeOf(before) : undefined);
  }
  const pitch = returned.notationMidi ?? returned.tabMidi ?? returned.midi;
  if (returned.placeMidi === undefined || before === undefined) {
    const isPlaceRight = returned.placeMidi === pitch;
    return keep(pitch, isPlaceRight ? place : undefined, before === undefined && !isPlaceRight);
  }
  const isPlaceChanged = !isSamePlace(returned, before);
  const isNotationChanged = returned.notationMidi !== undefined && returned.notationMidi !== before.midi;
  if (isPlaceChanged && (!isNotationChanged || returned.notationMidi === returned.placeMidi))
    return keep(returned.placeMidi, place);
  if (isNotationChanged) return keep(pitch, undefined, isPlaceChanged);
  // Neither was changed but the pitch that the TAB has beside its fret.
  return returned.notationMidi === undefined
    ? keep(pitch, undefined)
    : keep(before.midi, placeOf(before), true);
}

function reconciled(
  returned: ReturnedNote,
  before: PlayedNote | undefined,
  midi: number,
  place: ReconciledNote["place"],
  isMelody: boolean,
): ReconciledNote {
  const isMoved = place === undefined || before === undefined || !isSamePlace(place, before);
  const finger = place?.fret === 0 ? 0 : returned.finger === 0 ? undefined : returned.finger;
  // A finger that is not said is the one that was written, as long as the note is where it was.
  const said = finger ?? (isMoved ? undefined : before.finger);
  return {
    onset: returned.onset,
    end: returned.end,
    midi,
    place,
    nearString: returned.string ?? before?.string,
    finger: said,
    isFingerStale: place?.fret !== 0 && (finger === undefined || (isMoved && finger === before?.finger)),
    isFingerChanged: !isMoved && finger !== undefined && finger !== before.finger,
    isMelody,
  };
}

const statements = ({ notationMidi, tabMidi, placeMidi }: ReturnedNote): readonly number[] =>
  [notationMidi, tabMidi, placeMidi].filter((midi) => midi !== undefined);

const isAgreed = (note: ReturnedNote): boolean => new Set(statements(note)).size === 1;

interface Place {
  readonly string: number | undefined;
  readonly fret: number | undefined;
}

const isSamePlace = (one: Place, other: Place): boolean =>
  one.string === other.string && one.fret === other.fret;

const placeOf = ({ string, fret }: Place): ReconciledNote["place"] =>
  string === undefined || fret === undefined ? undefined : { string, fret };

function saysText({ notationMidi, tabMidi, placeMidi, string, fret }: ReturnedNote): string {
  const says = [
    notationMidi === undefined ? undefined : `${midiText(notationMidi)} in the notation`,
    string === undefined || fret === undefined
      ? undefined
      : `string ${string} fret ${fret}${placeMidi === undefined ? "" : ` (${midiText(placeMidi)})`} in the TAB`,
    tabMidi === undefined || tabMidi === placeMidi ? undefined : `${midiText(tabMidi)} beside it`,
  ];
  return says.filter((said) => said !== undefined).join(", ");
}
