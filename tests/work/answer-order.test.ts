import { expect, test } from "vitest";
import { completeOptions } from "../../src/options/option-checking.js";
import { answerOrder } from "../../src/work/answer-order.js";
import type { Order } from "../../src/work/order.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

const TUNE = leadSheetFromText(
  "title: Two Geese\nkey: 0 major\ntime: 4/4\ntempo: 80\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n",
);
const score = new TextEncoder().encode(TUNE);
const options = completeOptions({});
const guitarScore = () => {
  const answer = answerOrder({ kind: "scoreOnly", score, options, isCompressed: false });
  if (answer.kind === "refused") throw new Error("the tune was refused");
  return answer.score;
};

const ORDERS: readonly Order[] = [
  { kind: "arrange", score, options, isCompressed: false },
  { kind: "scoreOnly", score, options, isCompressed: true },
  { kind: "keys", score, options },
  { kind: "check", score: guitarScore(), options },
];

test.each(ORDERS.map((order) => [order.kind, order] as const))(
  "an order of the kind %s and its answer are the same once they went to another thread and back",
  (_, order) => {
    const answer = answerOrder(order);
    expect(answer.kind).toBe("done");
    expect(structuredClone(answer)).toEqual(answer);
    expect(answerOrder(structuredClone(order))).toEqual(answer);
  },
);

test.each(["arrange", "scoreOnly", "keys", "check"] as const)(
  "a score that cannot be read is refused with its reason, whatever is asked (%s)",
  (kind) => {
    const answer = answerOrder({ kind, score: new Uint8Array(0), options, isCompressed: false });
    expect(answer).toMatchObject({ kind: "refused", findings: [{ rule: "file-empty", severity: "error" }] });
  },
);

test("what was noticed before a score is refused is in the answer too, the reason last", () => {
  const silent = TUNE.replaceAll(/<pitch>.*?<\/pitch>/gs, "<rest/>");
  const answer = answerOrder({
    kind: "arrange",
    score: new TextEncoder().encode(silent),
    options,
    isCompressed: false,
  });
  expect(answer.kind).toBe("refused");
  expect(answer.findings.at(-1)?.severity).toBe("error");
});

test("a wish is granted, and one that cannot be is refused", () => {
  const order = { kind: "arrange", score, options, isCompressed: false } as const;
  const wished = answerOrder({ ...order, wishes: { wishes: [{ measure: 1, beat: 1, play: "single" }] } });
  const plain = answerOrder(order);
  if (wished.kind === "refused" || plain.kind === "refused") throw new Error("the tune was refused");
  expect(wished.report.events[0]).not.toEqual(plain.report.events[0]);
  const beyond = { measure: 99, beat: 1, play: "single" } as const;
  expect(answerOrder({ ...order, wishes: { wishes: [beyond] } }).kind).toBe("refused");
});

test("what is said of the hand is among the findings of an arrangement, as it is in its report", () => {
  const wide = leadSheetFromText(
    "title: Nine Stairs\nkey: -1 major\ntime: 4/4\ntempo: 96\n\n[C7] E5/4 D5/4 C5/4 Bb4/4 | [F6] A4/1 ||\n",
  );
  const score = new TextEncoder().encode(wide);
  const smallHand = completeOptions({ hand: 0.85 });
  const answer = answerOrder({ kind: "arrange", score, options: smallHand, isCompressed: false });
  if (answer.kind === "refused") throw new Error("the tune was refused");
  expect(answer.report.findings.map(({ rule }) => rule)).toContain("reach-beyond-relaxed");
  expect(answer.findings).toEqual(answer.report.findings);
});
