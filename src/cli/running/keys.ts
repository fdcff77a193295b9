import { textOfFinding } from "../../diagnostics.js";
import { keysLines } from "../../reporting/keys-text.js";
import type { KeysOrder } from "../../work/order.js";
import type { Outcome } from "../exit-codes.js";
import type { ParsedLine } from "../flags.js";
import type { Outside } from "../outside.js";
import { askOfOneScore, type ScoreQuestion } from "./one-score.js";

const KEYS: ScoreQuestion<KeysOrder> = {
  name: "keys",
  doing: "Comparing keys for",
  order: (score, options) => ({ kind: "keys", score, options }),
  lines: (survey) => [...keysLines(survey), ...survey.findings.map(textOfFinding)],
  outcome: () => "done",
};

export const surveyOne = (line: ParsedLine, outside: Outside): Promise<Outcome> =>
  askOfOneScore(KEYS, line, outside);
