import type { Instrument } from "../../guitar/instrument.js";
import type { Candidate } from "../candidate.js";
import type { CostTable } from "../costs/cost-table.js";
import type { Steps } from "../costs/transition-cost.js";
import { GripRows } from "../grip-rows.js";
import type { ColumnPart, PackedColumn } from "../packed-column.js";
import { type Remembered, remembered } from "./memo.js";
import { bestFingers, type FingersFor, type Fretboard } from "./struck-grips.js";
import type { StruckRows } from "./struck-rows.js";
import { type Supports, sharedSupports } from "./supports.js";
import { HeldGrips } from "./sustained-grips.js";

/**
 * What was worked out for one instrument, its melody strings and one table of costs. A tune meets the same
 * note over the same chord many times, and so does the next tune: the same question has the same answer, so
 * it is kept for the whole process, within bounds.
 */
export interface BoardMemory {
  /** Every grip that was met. */
  readonly grips: GripRows;
  readonly shared: (given: Supports) => Supports;
  readonly fingersFor: FingersFor;
  readonly struck: Remembered<StruckRows>;
  readonly singles: Remembered<ColumnPart>;
  readonly rests: Remembered<readonly Candidate[]>;
  readonly held: HeldGrips;
  /** Parts of columns, and whole ones: of the tunes arranged last. */
  readonly parts: Remembered<ColumnPart>;
  readonly columns: Remembered<PackedColumn>;
  /** The steps between them. */
  readonly steps: Remembered<Steps>;
}

/** Instruments remembered at once: a service's guests bring their own. */
const BOARDS = 4;

/** With more grips than this it is time to forget: some tens of megabytes. */
const GRIPS = 100_000;

const COLUMNS = 500;

const memories = new WeakMap<CostTable, Map<string, BoardMemory>>();

/** The memory for a board; to be asked for at the start of a tune, since it is emptied between tunes when it is full. */
export function boardMemory({ instrument, melodyStrings }: Fretboard, costs: CostTable): BoardMemory {
  const known = memories.get(costs) ?? new Map<string, BoardMemory>();
  memories.set(costs, known);
  const name = JSON.stringify([instrument, melodyStrings]);
  const before = known.get(name);
  const memory = before === undefined || before.grips.size > GRIPS ? emptyMemory(instrument, costs) : before;
  known.delete(name);
  known.set(name, memory);
  for (const oldest of known.keys()) {
    if (known.size <= BOARDS) break;
    known.delete(oldest);
  }
  return memory;
}

function emptyMemory(instrument: Instrument, costs: CostTable): BoardMemory {
  const grips = new GripRows();
  const shared = sharedSupports();
  return {
    grips,
    shared,
    fingersFor: rememberedFingers((strings) => bestFingers({ instrument }, strings, costs)),
    struck: remembered(),
    singles: remembered(),
    rests: remembered(),
    held: new HeldGrips(grips, shared),
    parts: remembered(2 * COLUMNS),
    columns: remembered(COLUMNS),
    steps: remembered(COLUMNS),
  };
}

/** The same strings and frets have the same fingers, whatever the chord. */
function rememberedFingers(work: FingersFor): FingersFor {
  const known = new Map<string, ReturnType<FingersFor>>();
  return (strings) => {
    let name = "";
    for (const { string, fret } of strings) name += String.fromCharCode(string * FRETS_AT_MOST + fret);
    let fingers = known.get(name);
    if (fingers === undefined) {
      fingers = work(strings);
      known.set(name, fingers);
    }
    return fingers;
  };
}

/** More frets than any neck has. */
const FRETS_AT_MOST = 64;
