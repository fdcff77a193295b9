import { isHoldable, type SoundingString } from "../../guitar/fingering.js";
import type { Finger } from "../../guitar/grip.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import type { Instrument } from "../../guitar/instrument.js";
import { type Candidate, candidates } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import { melodyPlaceCost, openStringsCost } from "../costs/voicing-cost.js";
import type { BoardMemory } from "./board-memory.js";
import { type Fretboard, melodyPlaces } from "./struck-grips.js";
import { type Supports, someSupports } from "./supports.js";

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
  memory: BoardMemory,
  heldCost: number,
  worthOf: (degrees: readonly string[]) => number,
  isHollow: (degrees: readonly string[]) => boolean,
): readonly Candidate[] {
  const possible = new Map<string, Held>();
  for (const earlier of differentSupports(before)) {
    for (const grip of heldOver(earlier, melodyMidi, board, costs, memory)) {
      let held = possible.get(grip.name);
      if (held === undefined) {
        const { degrees } = grip.kept;
        const cost = grip.cost + heldCost + (isHollow(degrees) ? costs.texture.heldHollow : 0);
        held = { grip, cost, rank: cost - worthOf(degrees), from: [] };
        possible.set(grip.name, held);
      }
      held.from.push(earlier.name);
    }
  }
  return [...possible.values()]
    .sort((a, b) => a.rank - b.rank)
    .slice(0, HELD_KEPT)
    .flatMap(({ grip, cost, from }) => {
      const isThinned = !from.includes(grip.kept.name);
      return grip.candidates.map((one) => ({ ...one, cost, heldFrom: from, isThinned }));
    });
}

/** A way to hold some supporting notes with a melody note over them, whatever the chord and the moment. */
export interface HeldGrip {
  /** Says strings, frets, fingers and degrees. */
  readonly name: string;
  readonly kept: Supports;
  /** Holding it, and where the melody and open strings are. */
  readonly cost: number;
  /** One, or one for each place to wait where only open strings sound. */
  readonly candidates: readonly Candidate[];
}

interface Held {
  readonly grip: HeldGrip;
  readonly cost: number;
  /** The cost less what would be paid for letting go of what is kept. */
  readonly rank: number;
  /** Names of the earlier supports of which nothing more can stay. */
  readonly from: string[];
}

/** The supporting notes of earlier grips that may ring on, each set of strings, frets and fingers once. */
function differentSupports(before: readonly Candidate[]): Iterable<Supports> {
  const different = new Map<string, Supports>();
  for (const { supports } of before) {
    if (supports.strings.length >= FEWEST_HELD && !different.has(supports.name))
      different.set(supports.name, supports);
  }
  return different.values();
}

/** Everything of some supports that can be held under a melody note, for each of its places and fingers. */
function heldOver(
  earlier: Supports,
  melodyMidi: number,
  board: Fretboard,
  costs: CostTable,
  memory: BoardMemory,
): readonly HeldGrip[] {
  const byMelody = memory.held.get(earlier) ?? new Map<number, readonly HeldGrip[]>();
  memory.held.set(earlier, byMelody);
  const known = byMelody.get(melodyMidi);
  if (known !== undefined) return known;
  const found = melodyPlaces(board, melodyMidi).flatMap((place) =>
    (place.fret === 0 ? ([0] as const) : ([1, 2, 3, 4] as const)).flatMap((finger) => {
      const free = freeOf(earlier, place, finger, melodyMidi);
      if (free === undefined) return [];
      return largestKept(free, place, finger, board.instrument).map((kept) =>
        heldGrip(kept, place, finger, melodyMidi, board.instrument, costs, memory),
      );
    }),
  );
  byMelody.set(melodyMidi, found);
  return found;
}

function heldGrip(
  kept: Supports,
  place: SoundingString,
  finger: Finger,
  melodyMidi: number,
  instrument: Instrument,
  costs: CostTable,
  memory: BoardMemory,
): HeldGrip {
  const name = `${kept.name}${kept.degrees} under ${place.string}:${place.fret}:${finger}`;
  const known = memory.heldGrips.get(name);
  if (known !== undefined) return known;
  const strings = [...kept.strings, place];
  const fingers = [...kept.fingers, finger];
  const grip = {
    name,
    kept,
    cost:
      holdingEffort(instrument, strings, fingers, costs.hand) +
      melodyPlaceCost(instrument, place, costs.voicing) +
      openStringsCost(strings, costs.voicing),
    candidates: candidates(instrument, {
      attack: "held",
      strings,
      fingers,
      midis: [...kept.midis, melodyMidi],
      degrees: kept.degrees,
      supports: kept,
      cost: 0,
    }),
  };
  memory.heldGrips.set(name, grip);
  return grip;
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
  return free.length === earlier.strings.length ? earlier : someSupports(earlier, free);
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
    const kept = gone === 0 ? [free] : without(all, gone).map((indexes) => someSupports(free, indexes));
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
