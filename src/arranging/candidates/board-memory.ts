import type { Candidate } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import { type Remembered, remembered } from "./memo.js";
import type { Fretboard, StruckGrip } from "./struck-grips.js";
import type { Supports } from "./supports.js";
import type { HeldGrip } from "./sustained-grips.js";

/**
 * What was worked out for one instrument, its melody strings and one table of costs. A tune meets the same
 * note over the same chord many times, and so does the next tune: the same question has the same answer, so
 * it is kept for the whole process, within bounds.
 */
export interface BoardMemory {
  readonly grips: Remembered<readonly StruckGrip[]>;
  readonly struck: Remembered<readonly Candidate[]>;
  readonly singles: Remembered<readonly Candidate[]>;
  /** Melody notes over what rings on from a column, and whole columns: of the tunes arranged last. */
  readonly ringing: Remembered<readonly Candidate[]>;
  readonly columns: Remembered<readonly Candidate[]>;
  /** By melody note: what of some supports can be held under it, and how. */
  held: WeakMap<Supports, Map<number, readonly HeldGrip[]>>;
  /** Each held grip once, by its name. Both are emptied between tunes when there are many. */
  readonly heldGrips: Map<string, HeldGrip>;
}

/** Instruments remembered at once: a service's guests bring their own. */
const BOARDS = 4;

const GRIPS = 200;
const CANDIDATES = 250;
const HELD_GRIPS = 8_000;

const memories = new WeakMap<CostTable, Remembered<BoardMemory>>();

/** The memory for a board; to be asked for at the start of a tune. */
export function boardMemory({ instrument, melodyStrings }: Fretboard, costs: CostTable): BoardMemory {
  const known = memories.get(costs) ?? remembered<BoardMemory>(BOARDS);
  memories.set(costs, known);
  const memory = known([JSON.stringify([instrument, melodyStrings])], () => ({
    grips: remembered(GRIPS),
    struck: remembered(CANDIDATES),
    singles: remembered(CANDIDATES),
    ringing: remembered(CANDIDATES),
    columns: remembered(CANDIDATES),
    held: new WeakMap(),
    heldGrips: new Map(),
  }));
  if (memory.heldGrips.size > HELD_GRIPS) {
    memory.heldGrips.clear();
    memory.held = new WeakMap();
  }
  return memory;
}
