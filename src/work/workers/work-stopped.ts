import type { Finding } from "../../diagnostics.js";
import type { Refused } from "../order.js";

/** Work on one order was ended because it took more than it may; others are not touched by it. */
export class WorkStopped extends Error {
  readonly reason: "time" | "memory";
  readonly finding: Finding;

  /** @param limit seconds, or mebibytes */
  constructor(reason: "time" | "memory", limit: number) {
    const finding = reason === "time" ? takesTooLong(limit) : takesTooMuch(limit);
    super(finding.message);
    this.name = "WorkStopped";
    this.reason = reason;
    this.finding = finding;
  }

  /** The same as an answer, for an edge at which nobody waits. */
  get refused(): Refused {
    return { kind: "refused", findings: [this.finding] };
  }
}

const takesTooLong = (seconds: number): Finding =>
  stopped("work-too-long", `work of more than ${seconds} seconds`, `at most ${seconds} seconds`);

const takesTooMuch = (mebibytes: number): Finding =>
  stopped("work-too-heavy", `more than ${mebibytes} MiB of memory`, `at most ${mebibytes} MiB`);

const stopped = (rule: string, found: string, expected: string): Finding => ({
  rule,
  severity: "error",
  place: {},
  found,
  expected,
  message: `The score takes ${found}.`,
  hint: "Divide the score.",
});
