import { type Finding, textOfFinding } from "../diagnostics.js";
import type { Report } from "../reporting/report.js";

/** What became of one lead sheet of a batch. */
export interface BatchRow {
  /** As it was asked for. */
  readonly input: string;
  /** The lead sheet and its guitar score as seen from the output folder, with "/" between folders. */
  readonly sheet: string;
  readonly score: string;
  /**
   * refused: it cannot be read or arranged. stopped: it took more time or memory than it may. trouble: a file
   * cannot be read or written, or the program itself made a mistake. leftAlone: a guitar score is there that was
   * not written here, or was worked on since.
   */
  readonly outcome: "arranged" | "refused" | "stopped" | "trouble" | "leftAlone";
  /** The rest of what is known, where it was arranged. */
  readonly arranged?: ArrangedRow;
  readonly warnings: number;
  /** The first findings that are worth a look, without the file. */
  readonly says: readonly string[];
}

export interface ArrangedRow {
  readonly title?: string;
  /** Of the lead sheet, in words. */
  readonly key: string;
  /** How far the tune was moved. */
  readonly semitones: number;
  readonly fits: "as written" | "moved" | "on more of the neck";
  readonly notes: number;
  /** Share of the notes with a chord struck or ringing under them, 0 to 1. */
  readonly withChord: number;
  /** Absent where the hand never moves. */
  readonly hardestMove?: { readonly mmPerSecond: number; readonly measure: number; readonly beat: number };
  readonly moves: number;
  readonly movesTooFast: number;
}

const MOST_SAID = 5;

/** Rules of findings that say that a tune does not lie on its strings as it is written: the row has that in `fits`. */
const MOVED_RULES = new Set(["tune-moved-to-other-key", "tune-moved-by-octave"]);
const WIDE_RULE = "melody-on-more-of-the-neck";

export function saidIn(findings: readonly Finding[]): Pick<BatchRow, "warnings" | "says"> {
  const worthALook = findings.filter(({ severity }) => severity !== "note");
  const ordered = worthALook.toSorted((a, b) => rankOf(a) - rankOf(b));
  return {
    warnings: worthALook.filter(({ severity }) => severity === "warning").length,
    says: ordered.slice(0, MOST_SAID).map(textOfFinding),
  };
}

/** What ended the work stands last and counts most; then what is said of a place in the music. */
function rankOf({ severity, place, rule }: Finding): number {
  if (severity === "error") return 0;
  if (MOVED_RULES.has(rule) || rule === WIDE_RULE) return 3;
  return place.measure === undefined ? 2 : 1;
}

export function arrangedRow({ title, key, melody, hardestMove, moves, findings }: Report): ArrangedRow {
  const rules = new Set(findings.map(({ rule }) => rule));
  const isMoved = [...rules].some((rule) => MOVED_RULES.has(rule));
  const isWide = rules.has(WIDE_RULE);
  return {
    ...(title === undefined ? {} : { title }),
    key: key.before,
    semitones: key.semitones,
    fits: isWide ? "on more of the neck" : isMoved ? "moved" : "as written",
    notes: melody.notes,
    withChord: Math.round(((melody.struck + melody.held) / Math.max(1, melody.notes)) * 1000) / 1000,
    ...(hardestMove === undefined
      ? {}
      : {
          hardestMove: {
            mmPerSecond: Math.round(hardestMove.mmPerSecond),
            measure: hardestMove.to.measure,
            beat: hardestMove.to.beat,
          },
        }),
    moves: moves.count,
    movesTooFast: moves.beyondLimit,
  };
}
