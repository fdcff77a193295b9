import type { CheckOptions } from "../checking/check-score.js";
import type { Finding } from "../diagnostics.js";
import type { ArrangeOptions } from "../options/options.js";
import type { CheckReport } from "../reporting/check-report.js";
import type { KeySurvey } from "../reporting/key-survey-report.js";
import type { Report } from "../reporting/report.js";
import type { WishesFile } from "../wishes/wishes-file.js";

/**
 * A score and what is asked about it. Plain data, as its answer is: both cross to another process, thread or
 * worker of a page as they are. Options and wishes were checked by whoever made the order.
 */
export type Order = ArrangeOrder | CheckOrder | KeysOrder;

/** A lead sheet to be arranged: with the report on it, or the score alone, since a report is large beside it. */
export interface ArrangeOrder {
  readonly kind: "arrange" | "scoreOnly";
  /** Bytes of a lead sheet, .musicxml or .mxl. */
  readonly score: Uint8Array;
  readonly options: ArrangeOptions;
  readonly wishes?: WishesFile | undefined;
  /**
   * What stands where the guitar score goes: the one that was made from the lead sheet before, which a player may have
   * edited. What is no such score counts for nothing.
   */
  readonly beside?: Uint8Array | undefined;
  /** Whether the guitar score is to be a compressed one (.mxl). */
  readonly isCompressed: boolean;
}

/** Whether a hand can play a guitar score. */
export interface CheckOrder {
  readonly kind: "check";
  readonly score: Uint8Array;
  readonly options: CheckOptions;
}

/** What a lead sheet would be like to play in each key. */
export interface KeysOrder {
  readonly kind: "keys";
  readonly score: Uint8Array;
  readonly options: ArrangeOptions;
}

/** What each kind of order is answered with where the score could be worked on. */
export interface DoneFor {
  readonly arrange: ArrangeDone;
  readonly scoreOnly: ScoreDone;
  readonly check: CheckDone;
  readonly keys: KeysDone;
}

export interface ScoreDone {
  readonly kind: "done";
  /** Bytes of the guitar score. */
  readonly score: Uint8Array;
  readonly findings: readonly Finding[];
}

export interface ArrangeDone extends ScoreDone {
  readonly report: Report;
}

export interface CheckDone {
  readonly kind: "done";
  readonly report: CheckReport;
  readonly findings: readonly Finding[];
}

export interface KeysDone {
  readonly kind: "done";
  readonly report: KeySurvey;
  readonly findings: readonly Finding[];
}

/** The score cannot be read or worked on; the last finding says why. */
export interface Refused {
  readonly kind: "refused";
  readonly findings: readonly Finding[];
}

export type AnswerTo<Asked extends Order> = DoneFor[Asked["kind"]] | Refused;
