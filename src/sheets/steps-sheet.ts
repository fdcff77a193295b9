import type { HandTrace } from "../reporting/hand-trace.js";
import type { Report } from "../reporting/report.js";
import { momentText } from "../reporting/summary.js";
import { fretsAround, neckPicture } from "./neck-picture.js";
import {
  type Block,
  brokenInto,
  heading,
  INNER_MM,
  PAGE_MM,
  pagesOf,
  paragraph,
  pictureAt,
  words,
} from "./sheet-page.js";
import { tabRows } from "./tab-row.js";

/** An arrangement as a sheet shows it. */
export interface Shown {
  readonly report: Report;
  readonly trace: HandTrace;
}

/** How a tune is learnt in steps, as pages: a tune of thirty-two measures needs one. */
export interface StepsSource {
  /** Every note with its chord: the texture full. */
  readonly draft: Shown;
  /** What is to be played in the end. */
  readonly graceful: Shown;
  /** Quarter notes a minute that it is to be played at. */
  readonly quartersPerMinute: number;
}

export function stepsPages({ draft, graceful, quartersPerMinute }: StepsSource): readonly string[] {
  const title = graceful.report.title ?? "Untitled";
  const { melody } = graceful.report;
  const hard = hardestMoves(graceful, quartersPerMinute);
  const blocks: Block[] = [
    heading(`${title}: step by step`, 6.2),
    heading("1. The melody on its strings", 3.8),
    ...tabRows(graceful.report.events, graceful.trace, "melody"),
    heading("2. The first draft: every note with its chord, out of time", 3.8),
    ...tabRows(draft.report.events, draft.trace, "struck"),
    heading(
      `3. The graceful version: ${melody.struck} notes with a chord, ${melody.held} over one that rings on, ${melody.single} alone`,
      3.8,
    ),
    ...tabRows(graceful.report.events, graceful.trace, "struck"),
    heading(hard.length === 0 ? "4. The hand stays where it is" : "4. The hardest moves, slowly first", 3.8),
    ...(hard.length === 0 ? [] : [moveRow(hard, graceful)]),
    paragraph(
      "Warm up, and stop at pain, numbness or tingling; a teacher can say what suits your hand, a doctor why it hurts.",
      2.6,
    ),
  ];
  return pagesOf(blocks, `${title}: steps`);
}

interface HardMove {
  readonly from: number;
  readonly to: number;
  readonly moveMm: number;
  readonly secondsAvailable: number;
  /** Quarter notes a minute at which it is an easy move. */
  readonly slow: number;
  readonly tempo: number;
}

const HARDEST = 3;
/** Speed at which a move is no trouble, mm a second: a fifth of the fastest a hand is said to travel. */
const EASY_SHARE = 1 / 5;
const SLOWEST = 30;

/** The moves that ask for most speed, a move between the same two grips once, and how slowly to begin them. */
export function hardestMoves({ report, trace }: Shown, tempo: number): readonly HardMove[] {
  const grip = (index: number) => JSON.stringify(report.events[index]?.notes);
  const seen = new Set<string>();
  const easy = report.moves.limitMmPerSecond * EASY_SHARE;
  return trace.moves
    .filter(({ moveMm, secondsAvailable }) => moveMm >= 0.5 && secondsAvailable > 0)
    .toSorted(
      (one, other) =>
        other.moveMm / other.secondsAvailable - one.moveMm / one.secondsAvailable || one.from - other.from,
    )
    .filter(({ from, to }) => {
      const key = `${grip(from)} ${grip(to)}`;
      if (seen.has(key)) return false;
      seen.add(key);
      return true;
    })
    .slice(0, HARDEST)
    .map(({ from, to, moveMm, secondsAvailable }) => {
      const share = easy / (moveMm / secondsAvailable);
      const slow = share >= 1 ? tempo : Math.max(SLOWEST, Math.floor((tempo * share) / 4) * 4);
      return { from, to, moveMm, secondsAvailable, slow: Math.min(slow, tempo), tempo };
    });
}

const COLUMN_MM = INNER_MM / HARDEST;
const PICTURE_MM = 19;
const TEXT_MM = 2.5;

function moveRow(moves: readonly HardMove[], shown: Shown): Block {
  const columns = moves.map((move) => ({
    pictures: [move.from, move.to].map((index) => gripPicture(shown, index)),
    lines: moveWords(move, shown).flatMap((line) => brokenInto(line, COLUMN_MM - 4, TEXT_MM)),
  }));
  const lines = Math.max(...columns.map((column) => column.lines.length));
  return {
    heightMm: PICTURE_MM + lines * TEXT_MM * 1.35 + 3,
    draw: (top) =>
      columns
        .map(({ pictures, lines: own }, index) => {
          const x = PAGE_MM.margin + index * COLUMN_MM;
          const half = (COLUMN_MM - 6) / 2;
          return [
            ...pictures.map((picture, order) =>
              pictureAt(picture, x + order * (half + 1), top, half, PICTURE_MM),
            ),
            ...own.map((line, order) =>
              words(line, x, top + PICTURE_MM + TEXT_MM * (1 + order * 1.35), TEXT_MM),
            ),
          ].join("");
        })
        .join(""),
  };
}

function gripPicture({ report, trace }: Shown, index: number): string {
  const notes = report.events[index]?.notes ?? [];
  return neckPicture({
    neck: trace.neck,
    ...fretsAround(notes, trace.neck),
    notes,
    degrees: [],
    hasMelody: report.events[index]?.melody !== undefined,
    isNamed: true,
  });
}

/** How to practise a move. Common practice: out of time, then slowly, then a little faster each day. */
function moveWords(move: HardMove, { report }: Shown): readonly string[] {
  const [from, to] = [report.events[move.from], report.events[move.to]];
  if (from === undefined || to === undefined) return [];
  const tempo = Math.round(move.tempo);
  return [
    `${momentText(from)} to ${momentText(to)}: ${Math.round(move.moveMm)} mm in ${move.secondsAvailable.toFixed(2)} s`,
    "Set both grips silently, looking at where the hand goes, ten times.",
    move.slow >= tempo
      ? `Then play them at ${tempo} quarter notes a minute.`
      : `Then play them at ${move.slow} quarter notes a minute, where the move is easy; four a minute faster whenever it is without effort, up to ${tempo}.`,
  ];
}
