import { stringCount } from "../../guitar/instrument.js";
import { supportPlan } from "../../harmony/support-plan.js";
import type { CostTable } from "../costs/cost-table.js";
import type { TuneEvent } from "../events/tune-events.js";
import { type Candidate, candidates } from "../grips/candidate.js";
import type { GripsKept } from "./grips-kept.js";
import { type FingersFor, type Fretboard, struckGrips } from "./struck-grips.js";

/** Chords kept for each note that may be on top. */
const KEPT_EACH_TOP = 12;
const KEPT: GripsKept = {
  most: KEPT_EACH_TOP,
  within: Number.POSITIVE_INFINITY,
  atLeast: KEPT_EACH_TOP,
  isEachFinger: false,
};

/** Pitches a chord in a rest may have on top: under the melody's usual range, clear of the bass. */
const LOWEST_TOP_MIDI = 55;
const HIGHEST_TOP_MIDI = 67;

/**
 * Chords for a change that falls in a rest of the melody, on the lower strings (G. Ruby, Acoustic Guitar,
 * 2022), with any chord tone on top; or nothing, where no grip is to be had.
 */
export function restChords(
  event: TuneEvent,
  board: Fretboard,
  notes: "auto" | 3 | 4,
  costs: CostTable,
  fingersFor?: FingersFor,
): readonly Candidate[] {
  const { chord } = event;
  const { instrument } = board;
  const silent = silence(board, costs.texture.bareChordChange);
  if (chord === undefined) return silent;
  const lower = [...Array(stringCount(instrument)).keys()]
    .map((index) => index + 1)
    .filter((string) => string >= 2);
  const chords = chord.tones.flatMap((tone) => {
    const plan = supportPlan(chord, tone.pitchClass, notes);
    const tops: number[] = [];
    for (let midi = LOWEST_TOP_MIDI; midi <= HIGHEST_TOP_MIDI; midi += 1)
      if (midi % 12 === tone.pitchClass) tops.push(midi);
    return tops.flatMap((midi) =>
      struckGrips({ ...board, melodyStrings: lower.slice(0, 3) }, midi, plan, costs, {
        fingersFor,
        kept: KEPT,
      })
        .slice(0, KEPT_EACH_TOP)
        .flatMap((grip) =>
          candidates(instrument, {
            ...grip,
            degrees: [...grip.degrees, tone.label],
            attack: "struck",
          }),
        ),
    );
  });
  return [...silent, ...chords];
}

/** Nothing, where the melody rests. */
export const silence = ({ instrument }: Fretboard, cost: number): readonly Candidate[] =>
  candidates(instrument, { attack: "single", strings: [], fingers: [], midis: [], degrees: [], cost });
