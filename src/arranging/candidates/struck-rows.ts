import type { Attack } from "../../arrangement/arrangement.js";
import type { SoundingString } from "../../guitar/fingering.js";
import type { CostTable } from "../costs/cost-table.js";
import { wideAtTempoCost } from "../costs/reach-cost.js";
import { handPlacesMm } from "../grips/candidate.js";
import { fingerUses } from "../grips/finger-use.js";
import { type GripRows, noteNumber } from "../grips/grip-rows.js";
import type { ColumnPart } from "../grips/packed-column.js";
import { supportsOf } from "../grips/supports.js";
import type { StruckMemory } from "./board-memory.js";
import type { GripsKept } from "./grips-kept.js";
import type { Fretboard, StruckGrip } from "./struck-grips.js";

/**
 * Grips dearer by more than this than the cheapest with the melody on the same string are left out, save for a
 * few. That decides here and there: with 950 in its place 29 of 2,383 struck in 20 lead sheets, fluent and full, were
 * dearer by more, by 929 at most, and the whole took an eighth longer.
 */
const WITHIN = { within: 600, atLeast: 6 };

/** Struck grips an event keeps for each string that the melody may be on. */
const EACH_STRING: GripsKept = { ...WITHIN, most: 30, isEachFinger: false };

/** The same for each finger on each of those strings, where a note rings on over a change of chord and its finger decides. */
const EACH_FINGER: GripsKept = { ...WITHIN, most: 14, isEachFinger: true };

/** Those that an event keeps, by whether the finger on its note decides. */
export const struckKept = (isFingerDecided: boolean): GripsKept =>
  isFingerDecided ? EACH_FINGER : EACH_STRING;

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
  asked: GripsKept,
  { grips, shared }: Pick<StruckMemory, "grips" | "shared">,
): StruckRows {
  const rows: number[] = [];
  const costs: number[] = [];
  const beyondTempoMm: number[] = [];
  for (const grip of filled(keptOf(possible, asked))) {
    const { strings, fingers, midis } = grip;
    const supports = shared(supportsOf(grip));
    const uses = fingerUses(strings, fingers);
    for (const placeMm of handPlacesMm(board.instrument, strings, fingers)) {
      rows.push(grips.add({ strings, fingers, midis, supports, placeMm, fingerUses: uses }));
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

function keptOf(
  possible: readonly StruckGrip[],
  { most, within, atLeast, isEachFinger }: GripsKept,
): readonly StruckGrip[] {
  const seen = new Map<number, { count: number; readonly cheapest: number }>();
  return possible.filter(({ strings, fingers, cost }) => {
    const place = noteNumber(strings.at(-1)?.string ?? 0, 0, isEachFinger ? (fingers.at(-1) ?? 0) : 0);
    const before = seen.get(place) ?? { count: 0, cheapest: cost };
    seen.set(place, before);
    before.count += 1;
    const isNear = before.count <= atLeast || cost - before.cheapest <= within;
    return isNear && before.count <= most;
  });
}

/** A note more that makes a grip cheaper by so much is taken. */
const WORTH_FILLING_POINTS = 20;

/**
 * Without those to which one more note can be added for less, such as the root of a chord that stands for long or what
 * fills a silent string inside: a hand that has it under its fingers takes it. Common practice.
 */
function filled(grips: readonly StruckGrip[]): readonly StruckGrip[] {
  const cheapestWithMore = new Map<string, number>();
  for (const { strings, cost } of grips) {
    if (strings.length <= FEWEST_FILLED) continue;
    for (let added = 0; added < strings.length - 1; added += 1) {
      const name = nameOf(strings, strings[added]);
      if (!cheapestWithMore.has(name)) cheapestWithMore.set(name, cost);
    }
  }
  return grips.filter(
    ({ strings, cost }) =>
      cost - WORTH_FILLING_POINTS < (cheapestWithMore.get(nameOf(strings)) ?? Number.POSITIVE_INFINITY),
  );
}

/** Two notes under the melody; fewer are no grip to fill but a sound of their own. */
const FEWEST_FILLED = 3;

function nameOf(strings: readonly SoundingString[], without?: SoundingString): string {
  let name = "";
  for (const one of strings) if (one !== without) name += `${one.string}:${one.fret} `;
  return name;
}
