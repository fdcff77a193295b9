import { arrangedBytes } from "../arrange-bytes.js";
import { checkScore } from "../checking/check-score.js";
import { Findings, ScoreError } from "../diagnostics.js";
import { surveyKeys } from "../keys/survey-keys.js";
import { readScore } from "../read-score.js";
import { checkReport } from "../reporting/check-report.js";
import { withEditedBeside } from "./edited-beside.js";
import type {
  AnswerTo,
  ArrangeDone,
  ArrangeOrder,
  CheckDone,
  CheckOrder,
  KeysDone,
  KeysOrder,
  Order,
  ScoreDone,
} from "./order.js";

/**
 * Does one order; every edge asks this. A score that cannot be worked on is an answer too, and any error that is
 * thrown is a mistake of ours. Pure.
 */
export function answerOrder<Asked extends Order>(order: Asked): AnswerTo<Asked>;
export function answerOrder(order: Order): AnswerTo<Order> {
  const findings = new Findings();
  try {
    return done(order, findings);
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    return { kind: "refused", findings: [...findings.all, error.finding] };
  }
}

function done(order: Order, findings: Findings): AnswerTo<Order> {
  switch (order.kind) {
    case "arrange":
    case "scoreOnly":
      return arranged(order, findings);
    case "check":
      return checked(order, findings);
    case "keys":
      return surveyed(order, findings);
  }
}

function arranged(order: ArrangeOrder, findings: Findings): ArrangeDone | ScoreDone {
  const { kind, score, options, wishes, isCompressed, beside } = order;
  const document = withEditedBeside(readScore(score, findings), beside, options, findings);
  const { bytes, report } = arrangedBytes(document, options, findings, { isCompressed }, wishes);
  const done: ScoreDone = { kind: "done", score: bytes, findings: report.findings };
  return kind === "arrange" ? { ...done, report } : done;
}

function checked({ score, options }: CheckOrder, findings: Findings): CheckDone {
  const report = checkReport(checkScore(readScore(score, findings), options, findings));
  return { kind: "done", report, findings: report.findings };
}

function surveyed({ score, options }: KeysOrder, findings: Findings): KeysDone {
  const report = surveyKeys(readScore(score, findings), options, findings);
  return { kind: "done", report, findings: report.findings };
}
