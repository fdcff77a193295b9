import { isHoldable, type SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import type { Instrument } from "../../guitar/instrument.js";
import { type Candidate, candidates, supportCount, supportsName } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import { melodyPlaceCost, openStringsCost } from "../costs/voicing-cost.js";
import { type Fretboard, melodyPlaces } from "./struck-grips.js";

/** Chords held from the event before that an event keeps. */
const HELD_KEPT = 150;

/** Nothing thinner is left to ring under a moving melody. */
const FEWEST_HELD = 2;

/**
 * A melody note over what rings on from the event before. A supporting note rings until its string or its
 * finger is needed or it would clash; then the rest of the chord stays. So for each place and finger of the
 * melody note everything stays that can, and where not all of it can be held together, as much as can.
 * Cheapest first, what was let go counted; its price belongs to the move, which knows what was let go.
 *
 * @param worthOf Points for letting all of some supporting notes go.
 * @param isHollow Whether some supporting notes leave open which chord it is.
 */
export function heldGrips(
  before: readonly Candidate[],
  melodyMidi: number,
  board: Fretboard,
  costs: CostTable,
  heldCost: number,
  worthOf: (degrees: readonly string[]) => number,
  isHollow: (degrees: readonly string[]) => boolean,
): readonly Candidate[] {
  const { instrument } = board;
  const places = melodyPlaces(board, melodyMidi);
  const possible = new Map<string, Held>();
  const seen = new Map<string, readonly Held[]>();
  for (const [name, earlier] of differentSupports(before)) {
    for (const place of places) {
      for (const finger of place.fret === 0 ? ([0] as const) : ([1, 2, 3, 4] as const)) {
        const free = freeOf(earlier, place, finger, melodyMidi);
        if (free === undefined) continue;
        const asked = nameOf(free, place, finger);
        const known =
          seen.get(asked) ?? largestKept(free, place, finger, instrument).map(heldOver(place, finger));
        seen.set(asked, known);
        for (const held of known) held.from.add(name);
      }
    }
  }
  return [...possible.values()]
    .sort((a, b) => a.rank - b.rank)
    .slice(0, HELD_KEPT)
    .flatMap(({ kept, strings, fingers, cost, from }) =>
      candidates(instrument, {
        attack: "held",
        strings,
        fingers,
        midis: [...kept.midis, melodyMidi],
        degrees: kept.degrees,
        heldFrom: from,
        cost,
      }),
    );

  function heldOver(place: SoundingString, finger: Finger): (kept: Supports) => Held {
    return (kept) => {
      const key = nameOf(kept, place, finger);
      const known = possible.get(key);
      if (known !== undefined) return known;
      const strings = [...kept.strings, place];
      const fingers = [...kept.fingers, finger];
      const cost =
        holdingEffort(instrument, strings, fingers, costs.hand) +
        melodyPlaceCost(instrument, place, costs.voicing) +
        openStringsCost(strings, costs.voicing) +
        heldCost +
        (isHollow(kept.degrees) ? costs.texture.heldHollow : 0);
      const held = {
        kept,
        strings,
        fingers,
        cost,
        rank: cost - worthOf(kept.degrees),
        from: new Set<string>(),
      };
      possible.set(key, held);
      return held;
    };
  }
}

/** A way to hold what is kept with the melody over it. */
interface Held {
  readonly kept: Supports;
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly cost: number;
  /** The cost less what would be paid for letting go of what is kept. */
  readonly rank: number;
  /** Names of the earlier supports of which nothing more can stay. */
  readonly from: Set<string>;
}

interface Supports {
  readonly strings: readonly SoundingString[];
  readonly fingers: readonly Finger[];
  readonly midis: readonly number[];
  readonly degrees: readonly string[];
}

/** The supporting notes of earlier grips that may ring on, by name: each set of strings, frets and fingers once. */
function differentSupports(before: readonly Candidate[]): ReadonlyMap<string, Supports> {
  const different = new Map<string, Supports>();
  for (const earlier of before) {
    const count = supportCount(earlier);
    if (count < FEWEST_HELD) continue;
    const name = supportsName(earlier);
    if (!different.has(name)) different.set(name, some(earlier, [...Array(count).keys()]));
  }
  return different;
}

/**
 * The supporting notes whose string and finger a melody note leaves free, and which do not clash with it;
 * undefined where those are too few.
 */
function freeOf(
  earlier: Supports,
  place: SoundingString,
  finger: Finger,
  melodyMidi: number,
): Supports | undefined {
  const free: number[] = [];
  for (const [index, { string, fret }] of earlier.strings.entries()) {
    const under = melodyMidi - (earlier.midis[index] ?? 0);
    if (string <= place.string || under < 2 || under === 13) continue;
    if (finger > 0 && earlier.fingers[index] === finger && fret !== place.fret) continue;
    free.push(index);
  }
  if (free.length < FEWEST_HELD) return undefined;
  return free.length === earlier.strings.length ? earlier : some(earlier, free);
}

/** The largest sets of free supporting notes that a hand can hold with the melody note. */
function largestKept(
  free: Supports,
  place: SoundingString,
  finger: Finger,
  instrument: Instrument,
): readonly Supports[] {
  const isHeld = ({ strings, fingers }: Supports) =>
    isHoldable(instrument, [...strings, place], [...fingers, finger]);
  const all = [...free.strings.keys()];
  for (let gone = 0; all.length - gone >= FEWEST_HELD; gone += 1) {
    const kept = gone === 0 ? [free] : without(all, gone).map((indexes) => some(free, indexes));
    const held = kept.filter(isHeld);
    if (held.length > 0) return held;
  }
  return [];
}

/** Every list with as many entries left out as are to go. */
function without(list: readonly number[], gone: number): readonly (readonly number[])[] {
  if (gone === 0) return [list];
  return list.flatMap((_, index) =>
    without(list.slice(index + 1), gone - 1).map((rest) => [...list.slice(0, index), ...rest]),
  );
}

const some = (whole: Supports, indexes: readonly number[]): Supports => ({
  strings: indexes.flatMap((index) => whole.strings[index] ?? []),
  fingers: indexes.map((index) => whole.fingers[index] ?? 0),
  midis: indexes.map((index) => whole.midis[index] ?? 0),
  degrees: indexes.map((index) => whole.degrees[index] ?? ""),
});

const nameOf = (kept: Supports, place: SoundingString, finger: Finger): string =>
  `${supportsName(kept)}under ${place.string}:${place.fret}:${finger}`;
