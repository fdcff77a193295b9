import type { TextureWeights } from "./cost-table.js";

/** Points for a grip whose fingers are wider apart than they go at tempo; the more time there is, the fewer. */
export function wideAtTempoCost(
  beyondMm: number,
  seconds: number,
  { wideAtTempoEachMm, calmSeconds, calmShare }: TextureWeights,
): number {
  const share = 1 - (1 - calmShare) * Math.min(1, seconds / calmSeconds);
  return Math.round(beyondMm * wideAtTempoEachMm * share);
}
