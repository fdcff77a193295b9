import { answerMessages } from "#built/work/workers/answer-messages.js";

/**
 * In place of the worker that works on scores: does what the "score" says, so that a test can have work
 * that takes long, takes much or fails. One word and a number: "work 500" is half a second of it.
 */
answerMessages(({ score }) => {
  const [word, number] = new TextDecoder().decode(score).trim().split(" ");
  if (word === "fail") throw new Error("this worker fails as it was told");
  if (word === "die") process.exit(1);
  if (word === "who") return done(String(process.pid));
  EATING[word]?.();
  if (word === "work") workFor(Number(number));
  return done("done");
});

function done(text) {
  return { kind: "done", score: new TextEncoder().encode(text), findings: [] };
}

/** Keeps the process itself busy: nothing inside it could stop it. */
function workFor(milliseconds) {
  const end = performance.now() + milliseconds;
  while (performance.now() < end);
}

/** Ways to run out of memory: little by little, and by one thing that is too large. */
const EATING = {
  eat() {
    const eaten = [];
    for (;;) eaten.push(Array.from({ length: 100_000 }, () => ({})));
  },
  "eat-list"() {
    const eaten = [];
    for (;;) eaten.push(eaten.length + 0.5);
  },
  "eat-map"() {
    const eaten = new Map();
    for (let size = 0; ; size++) eaten.set(size, `${size}`);
  },
};
