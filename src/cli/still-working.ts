import { writeSync } from "node:fs";
import { Worker } from "node:worker_threads";

/** Of silence, in milliseconds: who waits longer wonders. */
const SILENCE_MS = 2_000;
const EACH_MS = 1_000;
const WIPE = "\r\u001b[K";

/** States of the line: nobody writes it, it is being written, no more is to be written. */
const FREE = 0;
const WRITING = 1;
const ENDED = 2;

/**
 * What the clock does, in a thread of its own: the work keeps this one from everything else. As text, so that it is in no
 * file that has to be found.
 */
const CLOCK = `
  const { workerData } = require("node:worker_threads");
  const { writeSync } = require("node:fs");
  const { line, fileDescriptor, saying, silenceMs, eachMs, wipe } = workerData;
  const begun = performance.now();
  const tell = () => {
    if (Atomics.compareExchange(line, 0, ${FREE}, ${WRITING}) !== ${FREE}) return;
    writeSync(fileDescriptor, wipe + saying + ", " + Math.round((performance.now() - begun) / 1000) + " s");
    Atomics.store(line, 1, 1);
    Atomics.store(line, 0, ${FREE});
  };
  setTimeout(() => { tell(); setInterval(tell, eachMs); }, silenceMs);
`;

/**
 * Does some work, and after two seconds without an answer says on a terminal what is being done and for how long; the line
 * is gone when the work is done.
 *
 * @param saying such as "Arranging geese.musicxml"
 */
export function withClock<Answer>(
  saying: string,
  work: () => Answer,
  { fileDescriptor = 2, silenceMs = SILENCE_MS, eachMs = EACH_MS } = {},
): Answer {
  const line = new Int32Array(new SharedArrayBuffer(8));
  const workerData = { line, fileDescriptor, saying, silenceMs, eachMs, wipe: WIPE };
  const clock = new Worker(CLOCK, { eval: true, workerData });
  clock.unref();
  try {
    return work();
  } finally {
    while (Atomics.compareExchange(line, 0, FREE, ENDED) === WRITING);
    if (Atomics.load(line, 1) === 1) writeSync(fileDescriptor, WIPE);
    void clock.terminate();
  }
}
