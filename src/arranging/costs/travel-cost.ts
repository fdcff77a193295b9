import type { TextureName } from "../../options/options.js";
import { NO_PLACE } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { TravelWeights } from "./cost-table.js";

/** How far the hand travels along the neck between two grips, mm; 0 where one of them leaves it free. */
export function travelMm(earlier: PackedColumn, from: number, later: PackedColumn, to: number): number {
  return wayMm(earlier.placeMm[from], later.placeMm[to]);
}

/** The same between two places of the hand. */
export const wayMm = (before = NO_PLACE, after = NO_PLACE): number =>
  before === NO_PLACE || after === NO_PLACE ? 0 : Math.abs(after - before);

/**
 * Points for moving the hand: by distance, more than in proportion for a long way, and for being faster than
 * is easy. The time for it is the end of the old note, not the whole of it, which has to sound.
 */
export function travelCost(
  mm: number,
  seconds: number,
  texture: TextureName,
  weights: TravelWeights,
): number {
  if (mm === 0) return 0;
  const time = Math.max(weights.leastShiftSeconds, seconds * weights.shareOfNoteForShift);
  const hurry = Math.max(0, mm / time / weights.easyMmPerSecond - 1);
  const far = Math.max(0, mm - weights.longFromMm);
  return (
    (mm * weights.eachMm + far * weights.longEachMm + mm * hurry * weights.hurriedEachMm) *
    weights.scale[texture]
  );
}
