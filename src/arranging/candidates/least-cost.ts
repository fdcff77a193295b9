import type { CostTable } from "../costs/cost-table.js";
import { melodyPlaceCost } from "../costs/voicing-cost.js";
import { type Fretboard, melodyPlaces } from "./struck-grips.js";

/** What anything that can be done under or around a melody note costs at least: the note has to be played somewhere. */
export function leastCostUnder(board: Fretboard, melodyMidi: number, { voicing }: CostTable): number {
  const costs = melodyPlaces(board, melodyMidi).flatMap((place) =>
    [true, false].map((isAlone) => melodyPlaceCost(board.instrument, place, voicing, isAlone)),
  );
  return Math.min(...costs);
}
