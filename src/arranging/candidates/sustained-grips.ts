import { isHoldable, type SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import { type Candidate, candidates, supportCount } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import { type Fretboard, melodyPlaces } from "./struck-grips.js";

/** Chords held from the event before that an event keeps. */
const HELD_KEPT = 150;

/**
 * A melody note over what rings on from the event before: its supporting notes stay under their fingers,
 * all of them or all but one, and the melody goes to a free string and finger. Cheapest first, what was
 * let go counted; its price belongs to the move, which knows what was let go, not to the candidate.
 *
 * @param worthOf Points for letting all of some supporting notes go.
 */
export function heldGrips(
  before: readonly Candidate[],
  melodyMidi: number,
  board: Fretboard,
  costs: CostTable,
  heldCost: number,
  worthOf: (degrees: readonly string[]) => number,
): readonly Candidate[] {
  const { instrument } = board;
  const places = melodyPlaces(board, melodyMidi);
  const possible: Held[] = [];
  for (const kept of differentSupports(before)) {
    if (!kept.midis.every((midi) => midi < melodyMidi - 1 && melodyMidi - midi !== 13)) continue;
    const worth = worthOf(kept.degrees);
    for (const place of places) {
      if (kept.strings.some((note) => note.string <= place.string)) continue;
      const strings: readonly SoundingString[] = [...kept.strings, place];
      for (const finger of place.fret === 0 ? ([0] as const) : ([1, 2, 3, 4] as const)) {
        const fingers = [...kept.fingers, finger];
        if (!isHoldable(instrument, strings, fingers)) continue;
        const cost =
          holdingEffort(instrument, strings, fingers, costs.hand) +
          (costs.voicing.melodyString[place.string - 1] ?? 0) +
          heldCost;
        possible.push({ kept, strings, fingers, cost, rank: cost - worth });
      }
    }
  }
  return possible
    .sort((a, b) => a.rank - b.rank)
    .slice(0, HELD_KEPT)
    .flatMap(({ kept, strings, fingers, cost }) =>
      candidates(instrument, {
        attack: "held",
        strings,
        fingers,
        midis: [...kept.midis, melodyMidi],
        degrees: kept.degrees,
        cost,
      }),
    );
}

/** A way to hold what is kept with the melody over it. */
interface Held {
  readonly kept: KeptSupports;
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly cost: number;
  /** The cost less what would be paid for letting go of what is kept. */
  readonly rank: number;
}

interface KeptSupports {
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly midis: readonly number[];
  readonly degrees: readonly string[];
}

/** What of the earlier grips may stay, each set of strings, frets and fingers once. */
function differentSupports(before: readonly Candidate[]): readonly KeptSupports[] {
  const different = new Map<string, KeptSupports>();
  for (const earlier of before) {
    for (const kept of keptSupports(supportCount(earlier))) {
      const take = <Entry>(list: readonly Entry[]): readonly Entry[] =>
        list.filter((_, index) => kept.includes(index));
      const strings = take(earlier.strings);
      const fingers = take(earlier.fingers);
      const key = strings.map((note, index) => `${note.string}:${note.fret}:${fingers[index]}`).join(" ");
      if (different.has(key)) continue;
      different.set(key, { strings, fingers, midis: take(earlier.midis), degrees: take(earlier.degrees) });
    }
  }
  return [...different.values()];
}

/** Which supporting notes stay: all, or all but one while one is left. */
function keptSupports(count: number): readonly (readonly number[])[] {
  const all = [...Array(count).keys()];
  if (count === 0) return [];
  return count < 2 ? [all] : [all, ...all.map((gone) => all.filter((index) => index !== gone))];
}
