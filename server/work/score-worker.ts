import { Findings, ScoreError } from "undervoice";
import { JOBS } from "../jobs/jobs.js";
import type { WorkOrder, WorkResult } from "./work-order.js";

/** Runs in a thread: one order in, one result out. Any other error is a mistake of ours and is thrown. */
export default function work({ path, score, options, mediaType }: WorkOrder): WorkResult {
  const job = JOBS.find((each) => each.path === path);
  if (job === undefined) throw new Error(`no job is called ${path}`);
  const findings = new Findings();
  try {
    const body = job.run(score, options, findings, mediaType);
    return {
      kind: "done",
      body: typeof body === "string" ? new TextEncoder().encode(body) : body,
      warnings: findings.all.filter(({ severity }) => severity === "warning").length,
    };
  } catch (error) {
    if (!(error instanceof ScoreError)) throw error;
    return { kind: "refused", findings: [...findings.all, error.finding] };
  }
}
