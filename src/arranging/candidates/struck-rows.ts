import type { Attack } from "../../arrangement/arrangement.js";
import type { SoundingString } from "../../guitar/fingering.js";
import type { CostTable } from "../costs/cost-table.js";
import { wideAtTempoCost } from "../costs/reach-cost.js";
import { candidates } from "../grips/candidate.js";
import type { GripRows } from "../grips/grip-rows.js";
import type { ColumnPart } from "../grips/packed-column.js";
import { supportsOf } from "../grips/supports.js";
import type { StruckMemory } from "./board-memory.js";
import type { Fretboard, StruckGrip } from "./struck-grips.js";

/** Struck grips an event keeps for each string that the melody may be on, cheapest by themselves. */
const STRUCK_KEPT = 30;

/** The same for each finger on each of those strings, where a note rings on over a change of chord and its finger decides. */
const STRUCK_KEPT_EACH_FINGER = 14;

/**
 * Grips dearer by more than this than the cheapest with the melody on the same string are left out, save for a
 * few: of 2,615 struck grips chosen in 20 lead sheets, fluent and full, none was dearer by more than 429.
 */
const STRUCK_KEPT_WITHIN = 450;
const STRUCK_KEPT_AT_LEAST = 6;

/** The grips that may be struck in one situation, before they are placed in a texture. */
export interface StruckRows {
  readonly grips: GripRows;
  readonly rows: readonly number[];
  readonly costs: readonly number[];
  readonly beyondTempoMm: readonly number[];
}

/** The cheapest grips for each place of the melody, so that none is missing that the way may want. */
export function struckRows(
  board: Fretboard,
  possible: readonly StruckGrip[],
  isFingerDecided: boolean,
  { grips, shared }: Pick<StruckMemory, "grips" | "shared">,
): StruckRows {
  const rows: number[] = [];
  const costs: number[] = [];
  const beyondTempoMm: number[] = [];
  for (const grip of filled(kept(possible, isFingerDecided))) {
    const supports = shared(supportsOf(grip));
    for (const one of candidates(board.instrument, { ...grip, attack: "struck", supports })) {
      rows.push(grips.add(one));
      costs.push(grip.cost);
      beyondTempoMm.push(grip.beyondTempoMm);
    }
  }
  return { grips, rows, costs, beyondTempoMm };
}

/** They in a texture and at a tempo. */
export function struckPart(
  { grips, rows, costs, beyondTempoMm }: StruckRows,
  attack: Attack,
  extraCost: number,
  seconds: number,
  { texture }: CostTable,
): ColumnPart {
  return {
    attack,
    grips,
    rows,
    costs: costs.map(
      (cost, index) => cost + extraCost + wideAtTempoCost(beyondTempoMm[index] ?? 0, seconds, texture),
    ),
  };
}

/**
 * Whether nothing of so many points and more can be among the grips kept for a place of the melody, given what the
 * others there cost: so their fingers need not be found. Where a finger decides, each may still want its own.
 */
export const isStruckEnough =
  (isFingerDecided: boolean) =>
  (noDearer: readonly number[], points: number): boolean =>
    !isFingerDecided &&
    (noDearer.length >= STRUCK_KEPT ||
      (noDearer.length >= STRUCK_KEPT_AT_LEAST && points - Math.min(...noDearer) > STRUCK_KEPT_WITHIN));

function kept(possible: readonly StruckGrip[], isFingerDecided: boolean): readonly StruckGrip[] {
  const seen = new Map<string, { count: number; readonly cheapest: number }>();
  const most = isFingerDecided ? STRUCK_KEPT_EACH_FINGER : STRUCK_KEPT;
  return possible.filter(({ strings, fingers, cost }) => {
    const place = `${strings.at(-1)?.string} ${isFingerDecided ? fingers.at(-1) : ""}`;
    const before = seen.get(place) ?? { count: 0, cheapest: cost };
    seen.set(place, before);
    before.count += 1;
    const isNear = before.count <= STRUCK_KEPT_AT_LEAST || cost - before.cheapest <= STRUCK_KEPT_WITHIN;
    return isNear && before.count <= most;
  });
}

/**
 * Without those to which one more note can be added for nothing or less, such as the root of a chord that stands for
 * long or what fills a silent string inside: a hand that has it under its fingers takes it. Common practice.
 */
function filled(grips: readonly StruckGrip[]): readonly StruckGrip[] {
  const cheapestWithMore = new Map<string, number>();
  for (const { strings, cost } of grips) {
    if (strings.length <= FEWEST_FILLED) continue;
    for (const added of strings.slice(0, -1)) {
      const name = nameOf(strings.filter((one) => one !== added));
      if (!cheapestWithMore.has(name)) cheapestWithMore.set(name, cost);
    }
  }
  return grips.filter(
    ({ strings, cost }) => cost < (cheapestWithMore.get(nameOf(strings)) ?? Number.POSITIVE_INFINITY),
  );
}

/** Two notes under the melody; fewer are no grip to fill but a sound of their own. */
const FEWEST_FILLED = 3;

const nameOf = (strings: readonly SoundingString[]): string =>
  strings.map(({ string, fret }) => `${string}:${fret}`).join(" ");
