/**
 * In place of the thread that works on scores: does what the "score" says, so that a test can have work
 * that takes long, takes much or fails. One word and a number: "work 500" is half a second of it.
 */
export default function work({ score }) {
  const [word, number] = new TextDecoder().decode(score).trim().split(" ");
  if (word === "fail") throw new Error("this thread fails as it was told");
  if (word === "eat") eatMemory();
  if (word === "work") workFor(Number(number));
  return { kind: "done", body: new TextEncoder().encode("done"), warnings: 0 };
}

/** Keeps the thread itself busy: nothing inside it could stop it. */
function workFor(milliseconds) {
  const end = performance.now() + milliseconds;
  while (performance.now() < end);
}

function eatMemory() {
  const eaten = [];
  for (;;) eaten.push(Array.from({ length: 100_000 }, () => ({})));
}
