import type { Instrument } from "../../guitar/instrument.js";
import type { CostTable } from "../costs/cost-table.js";
import type { Steps } from "../costs/transition-cost.js";
import type { Candidate } from "../grips/candidate.js";
import { GripRows, noteNumber } from "../grips/grip-rows.js";
import type { ColumnPart, PackedColumn } from "../grips/packed-column.js";
import { type DegreeLists, type Supports, sharedSupports } from "../grips/supports.js";
import { HeldGrips } from "./held-memory.js";
import { type Remembered, remembered } from "./memo.js";
import { bestFingers, type FingersFor, type Fretboard } from "./struck-grips.js";
import type { StruckRows } from "./struck-rows.js";

/**
 * What was worked out for one instrument, its melody strings and one table of costs. A tune meets the same
 * note over the same chord many times, and so does the next tune: the same question has the same answer, so
 * it is kept for the whole process, within bounds.
 */
export interface BoardMemory {
  readonly struck: StruckMemory;
  readonly held: HeldGrips;
  /** Parts of columns, and whole ones: of the tunes arranged last. */
  readonly parts: Remembered<ColumnPart>;
  readonly columns: Remembered<PackedColumn>;
  /** The steps between them. */
  readonly steps: Remembered<Steps>;
  /** Makes room for so many columns: of a tune that is longer than what is kept nothing would be met again. */
  readonly makeRoom: (columns: number) => void;
}

/** What can be struck in which situations: what most tunes have in common. */
export interface StruckMemory {
  readonly grips: GripRows;
  readonly fingersFor: FingersFor;
  /** Grips under a note over a chord, by how long it stands and how its note goes on. */
  readonly situations: Remembered<StruckRows>;
  readonly singles: Remembered<ColumnPart>;
  readonly rests: Remembered<readonly Candidate[]>;
  readonly lists: DegreeLists;
  readonly shared: (given: Supports) => Supports;
}

/** Instruments remembered at once: a service's guests bring their own. */
const BOARDS = 4;

/** With more grips than this it is time to forget; of those that are held most tunes have their own. */
const STRUCK_GRIPS = 80_000;
const HELD_GRIPS = 15_000;

/** Columns of the tunes arranged last, and of a long one; parts that are asked for in making one; chords in rests. */
const COLUMNS = 500;
const MOST_COLUMNS = 3000;
const PARTS_OF_COLUMN = 2;
const CHORDS = 20;

/** Sets of strings and frets whose fingers are remembered. */
const FINGERED = 50_000;

/** What is known of a board; `memory` is put in place when the board is first met, and when it was full. */
interface KnownBoard {
  memory?: BoardMemory;
}

const memories = new WeakMap<CostTable, Remembered<KnownBoard>>();

/** The memory for a board; to be asked for at the start of a tune, since it is emptied between tunes when it is full. */
export function boardMemory({ instrument, melodyStrings }: Fretboard, costs: CostTable): BoardMemory {
  const boards = memories.get(costs) ?? remembered<KnownBoard>(() => BOARDS);
  memories.set(costs, boards);
  const board = boards([JSON.stringify([instrument, melodyStrings])], () => ({}));
  const before = board.memory;
  board.memory =
    before === undefined || before.struck.grips.size > STRUCK_GRIPS
      ? memoryWith(struckMemory(instrument, costs))
      : before.held.grips.size > HELD_GRIPS
        ? memoryWith(before.struck)
        : before;
  return board.memory;
}

function struckMemory(instrument: Instrument, costs: CostTable): StruckMemory {
  const lists: DegreeLists = new Map();
  return {
    grips: new GripRows(),
    fingersFor: rememberedFingers((strings) => bestFingers({ instrument }, strings, costs)),
    situations: remembered(),
    singles: remembered(),
    rests: remembered(() => CHORDS),
    lists,
    shared: sharedSupports(lists),
  };
}

function memoryWith(struck: StruckMemory): BoardMemory {
  let columns = COLUMNS;
  return {
    struck,
    held: new HeldGrips(sharedSupports(struck.lists)),
    parts: remembered(() => PARTS_OF_COLUMN * columns),
    columns: remembered(() => columns),
    steps: remembered(() => columns),
    makeRoom: (most) => {
      columns = Math.max(COLUMNS, Math.min(most, MOST_COLUMNS));
    },
  };
}

/** The same strings and frets have the same fingers, whatever the chord. */
function rememberedFingers(work: FingersFor): FingersFor {
  const known = remembered<ReturnType<FingersFor>>(() => FINGERED);
  return (strings) =>
    known(
      strings.map(({ string, fret }) => noteNumber(string, fret, 0)),
      () => work(strings),
    );
}
