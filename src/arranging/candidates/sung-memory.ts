import type { Tune } from "../../song/tune.js";
import type { Steps } from "../costs/transition-cost.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { BoardMemory } from "./board-memory.js";
import { type Remembered, remembered } from "./memo.js";
import type { SungGripsSoFar } from "./sung-grips.js";

/**
 * What was worked out for the voices of one tune on one board. No other tune has the same, so it goes when the tune does;
 * until then the same tune with other wishes, or around other edits, finds what they leave as it was.
 */
export interface SungMemory {
  readonly grips: SungGripsSoFar;
  readonly columns: Remembered<PackedColumn>;
  /** The steps between them. */
  readonly steps: Remembered<Steps>;
}

/** Of a tune that is asked for again and again, with a wish more each time, what was asked for last. */
const COLUMNS = 1000;

const memories = new WeakMap<Tune, WeakMap<BoardMemory, SungMemory>>();

export function sungMemory(tune: Tune, board: BoardMemory): SungMemory {
  const boards = memories.get(tune) ?? new WeakMap<BoardMemory, SungMemory>();
  memories.set(tune, boards);
  const memory = boards.get(board) ?? {
    grips: { fingered: new Map() },
    columns: remembered(() => COLUMNS),
    steps: remembered(() => COLUMNS),
  };
  boards.set(board, memory);
  return memory;
}
