import type { Digests } from "../arrangement/measure-digests.js";
import type { Finger } from "../guitar/grip.js";
import type { GuitarNote, GuitarScore } from "../guitar/guitar-score.js";
import { type Instrument, midiAt, stringCount } from "../guitar/instrument.js";
import { midiText } from "../song/pitch.js";
import type { Tune } from "../song/tune.js";

/** A guitar part that came back, with what the score says of its making. */
export interface ReturnedPart {
  readonly guitar: GuitarScore;
  readonly digests: Digests | undefined;
  /** Whether what the player did not touch is to stay: not where other options are asked for now. */
  readonly isRestKept: boolean;
}

/** One attack of a guitar part that came back, with what each staff says of it. Ticks of the tune. */
export interface ReturnedNote {
  readonly onset: number;
  readonly end: number;
  readonly voice: string;
  readonly midi: number;
  /** Sounding pitch on the notation staff; undefined where the note is not on it. */
  readonly notationMidi: number | undefined;
  /** Sounding pitch on the TAB staff, whatever its string and fret say. */
  readonly tabMidi: number | undefined;
  /** What string and fret sound; undefined where they are not said or not on the instrument. */
  readonly placeMidi: number | undefined;
  readonly string: number | undefined;
  readonly fret: number | undefined;
  readonly finger: Finger | undefined;
  /** A tie from it leads to nothing: it rings on. */
  readonly isLeftRinging: boolean;
  /** Until then, where that is said. */
  readonly ringsUntil: number | undefined;
}

/**
 * The attacks of a guitar part in the time of the tune, or its grace notes: bar by bar, so that a bar of
 * another length before them moves nothing. Those that the tune has no bar for, or none as long, are left out.
 */
export function returnedNotes(
  score: GuitarScore,
  tune: Tune,
  instrument: Instrument,
  kind: GuitarNote["kind"] = "note",
): readonly ReturnedNote[] {
  return score.notes.flatMap((note): readonly ReturnedNote[] => {
    if (note.kind !== kind) return [];
    const onset = tuneTick(score, tune, note.measure, note.onset);
    if (onset === undefined || isBehindBar(tune, note.measure, onset)) return [];
    const { string, fret, finger, notation, tab, voice, isLeftRinging, ringsBeyond } = note;
    const end = onset + (note.length * tune.ticksPerQuarter) / score.ticksPerQuarter;
    return [
      {
        onset,
        end,
        voice,
        midi: note.midi,
        notationMidi: notation === undefined ? undefined : notation.midi - score.notationAboveTab,
        tabMidi: tab?.midi,
        placeMidi: placeMidi(note, instrument),
        string,
        fret,
        finger: fingerOf(fret, finger),
        isLeftRinging,
        ringsUntil: ringsBeyond && end + (ringsBeyond * tune.ticksPerQuarter) / score.ticksPerQuarter,
      },
    ];
  });
}

/** How many attacks there are in each bar of the guitar part that the tune has no place for; bars without any are not named. */
export function attacksOutside(score: GuitarScore, tune: Tune): ReadonlyMap<number, number> {
  const counts = new Map<number, number>();
  for (const { kind, measure, onset } of score.notes) {
    const at = tuneTick(score, tune, measure, onset);
    if (kind === "note" && (at === undefined || isBehindBar(tune, measure, at)))
      counts.set(measure, (counts.get(measure) ?? 0) + 1);
  }
  return counts;
}

/** Whether a time lies where a bar of the tune is over already: the guitar's was longer. */
function isBehindBar({ measures }: Tune, index: number, tick: number): boolean {
  const measure = measures[index];
  return measure !== undefined && tick >= measure.start + measure.length;
}

/** The attacks and the grace notes of a guitar part that came back, in the time of the tune. */
export const notesAndGraces = (
  score: GuitarScore,
  tune: Tune,
  instrument: Instrument,
): readonly ReturnedNote[] => [
  ...returnedNotes(score, tune, instrument),
  ...returnedNotes(score, tune, instrument, "grace"),
];

/** A time of the guitar part in the time of the tune; undefined in a bar that the tune does not have. */
export function tuneTick(score: GuitarScore, tune: Tune, measure: number, tick: number): number | undefined {
  const from = score.measures[measure];
  const to = tune.measures[measure];
  if (from === undefined || to === undefined) return undefined;
  const ticks = ((tick - from.start) * tune.ticksPerQuarter) / score.ticksPerQuarter;
  // Whole where it can be: the quotient of two ticks need not be.
  const isNearlyWhole = Math.abs(ticks - Math.round(ticks)) < 1e-6;
  return to.start + (isNearlyWhole ? Math.round(ticks) : ticks);
}

function placeMidi({ string, fret }: GuitarNote, instrument: Instrument): number | undefined {
  if (string === undefined || fret === undefined) return undefined;
  if (string < 1 || string > stringCount(instrument) || fret < 0) return undefined;
  return midiAt(instrument, string, fret);
}

/** An open string takes no finger, and a stopped one none that is 0. */
const fingerOf = (fret: number | undefined, finger: Finger | undefined): Finger | undefined =>
  fret === 0 ? 0 : fret !== undefined && finger === 0 ? undefined : finger;

/** What sounds, such as "Bb3"; nothing spells it, so flats are taken. */
export const soundText = ({ midi }: { readonly midi: number }): string => midiText(midi);
