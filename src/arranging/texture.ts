import { melodyDegree } from "../harmony/melody-degree.js";
import type { CostTable } from "./cost-table.js";
import type { MoveLimit } from "./moves.js";
import type { TuneEvent } from "./tune-events.js";

/** What a texture makes of each way to play an event, in points; the path search decides. */
export interface Texture {
  /** Notes in a grip, melody included. */
  readonly notes: "auto" | 3 | 4;
  readonly limit: MoveLimit;
  readonly singleCost: (event: TuneEvent) => number;
  readonly struckCost: (event: TuneEvent) => number;
  /** undefined where the texture does not let a chord ring on into the event. */
  readonly heldCost: (event: TuneEvent) => number | undefined;
}

export interface TextureWishes {
  readonly texture: "fluent" | "full";
  readonly notes: "auto" | 3 | 4;
  /** Fastest travel of the hand, mm a second. */
  readonly shift: number;
}

export function textureOf(wishes: TextureWishes, costs: CostTable): Texture {
  const weights = costs.texture;
  const isFull = wishes.texture === "full";
  const inHaste = (event: TuneEvent) =>
    Math.round(Math.max(0, weights.hasteSeconds - event.seconds) * 10 * weights.struckInHasteEachTenth);
  return {
    notes: wishes.notes,
    limit: { mmPerSecond: wishes.shift, tooFast: costs.move.tooFast[wishes.texture] },
    singleCost: (event) => {
      if (event.chord === undefined) return 0;
      if (isFull) return isPassing(event, costs) ? 0 : weights.bareFull;
      if (event.isChordChange) return weights.bareChordChange;
      return (
        (weights.bareFluent[event.note.weight] ?? 0) + Math.round(event.seconds * weights.bareEachSecond)
      );
    },
    struckCost: (event) => (isFull && !isPassing(event, costs) ? 0 : inHaste(event)),
    heldCost: (event) => {
      if (event.chord === undefined || event.isChordChange) return undefined;
      if (isFull) return isPassing(event, costs) ? 0 : undefined;
      return (
        (weights.heldFluent[event.note.weight] ?? 0) + Math.round(event.seconds * weights.heldEachSecond)
      );
    },
  };
}

/** A quick passing note: off the beat, no chord tone, short. Single, or moving over a held chord, in every texture. */
export function isPassing(event: TuneEvent, costs: CostTable): boolean {
  if (event.chord === undefined || event.isChordChange || !event.isNoteOnset) return false;
  if (event.note.weight > 0 || event.seconds > costs.texture.passingSeconds) return false;
  return melodyDegree(event.chord, event.note.midi % 12).tone === undefined;
}
