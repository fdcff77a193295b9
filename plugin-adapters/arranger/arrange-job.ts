import { arrangeBytes, Findings, ScoreError } from "undervoice";
import type { ArrangeJob, ArrangeResult } from "./arranger.js";

/** Does one job. A score that cannot be arranged is a result; any other error is a mistake of ours and is thrown. */
export default function arrangeJob({ score, options, isCompressed }: ArrangeJob): ArrangeResult {
  const findings = new Findings();
  try {
    const { bytes } = arrangeBytes(score, options, findings, { isCompressed });
    return { kind: "done", score: bytes, findings: findings.all };
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    return { kind: "refused", findings: [...findings.all, error.finding] };
  }
}
