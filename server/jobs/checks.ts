import { CHECK_SCHEMA, type CheckOrder, OPTIONS_FOR } from "undervoice";
import { JSON_TYPE } from "../requests/media-types.js";
import { type Job, withoutDialect } from "./job.js";

/** What in a guitar score a hand cannot play or finds hard. */
export const checks: Job<CheckOrder> = {
  path: "/checks",
  summary: "Judge whether a hand can play a guitar score",
  description:
    "Takes a score with a guitar part and answers with everything a hand has to say about it. A score that " +
    "cannot be played is no failure of the check: the answer is 200, and the errors stand in it.",
  options: OPTIONS_FOR.check,
  schemas: { Check: withoutDialect(CHECK_SCHEMA) },
  answers: [
    {
      mediaType: JSON_TYPE,
      description: "Figures and findings.",
      schema: { $ref: "#/components/schemas/Check" },
    },
  ],
  order: ({ score, options }) => ({ kind: "check", score, options }),
  body: ({ report }) => JSON.stringify(report),
};
