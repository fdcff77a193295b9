import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, test } from "vitest";
import { completeOptions } from "../../src/options/option-checking.js";
import { answerOrder } from "../../src/work/answer-order.js";
import type { ArrangeOrder } from "../../src/work/order.js";
import { WorkStopped } from "../../src/work/workers/work-stopped.js";
import { openWorkerPool, type PoolLimits } from "../../src/work/workers/worker-pool.js";
import { SHORT_TUNE } from "../server/service-in-test.js";

const STUBBORN_WORKER = fileURLToPath(new URL("./stubborn-worker.js", import.meta.url));

/** Processes load compiled modules; `npm test` builds them first. */
const BUILT_WORKER = fileURLToPath(new URL("../../dist/work/workers/worker.js", import.meta.url));

/** Longer than any test may take: work that is never done. */
const FOR_EVER = "work 600000";

const order = (text: string): ArrangeOrder => ({
  kind: "scoreOnly",
  score: new TextEncoder().encode(text),
  options: completeOptions({}),
  isCompressed: false,
});

function poolInTest(limits: Partial<PoolLimits> = {}, workerFile = BUILT_WORKER) {
  const pool = openWorkerPool({ workers: 1, workMs: 60_000, workerMemoryMb: 256, ...limits }, workerFile);
  afterAll(() => pool.close());
  const answer = async (text: string, gone?: AbortSignal) => {
    const done = await pool.answer(order(text), gone);
    return done.kind === "refused" ? done : new TextDecoder().decode(done.score);
  };
  return { pool, answer };
}

test("a worker arranges a lead sheet as this process would", async () => {
  const { pool } = poolInTest();
  for (const kind of ["scoreOnly", "arrange"] as const)
    expect(await pool.answer({ ...order(SHORT_TUNE), kind })).toEqual(
      answerOrder({ ...order(SHORT_TUNE), kind }),
    );
});

test("a score that cannot be read is an answer, and the worker goes on", async () => {
  const { pool } = poolInTest();
  expect(await pool.answer(order("a shopping list"))).toMatchObject({ kind: "refused" });
  expect(await pool.answer(order(SHORT_TUNE))).toMatchObject({ kind: "done" });
});

test("one worker does one order after the other, and is the same one", async () => {
  const { answer } = poolInTest({}, STUBBORN_WORKER);
  const [first, ...others] = await Promise.all([answer("who"), answer("who"), answer("who")]);
  expect(others).toEqual([first, first]);
});

describe("the others' work goes on, and a new worker stands in, where a score", () => {
  test.each([
    ["takes its worker with it", "die", /ended by itself \(1\)/],
    ["makes its worker fail", "fail", /as it was told/],
  ])("%s", async (_, work, message) => {
    const { answer } = poolInTest({ workers: 2 }, STUBBORN_WORKER);
    const other = answer("work 300");
    await expect(answer(work)).rejects.toThrow(message);
    expect(await answer("done")).toBe("done");
    expect(await other).toBe("done");
  });

  test("is never done", async () => {
    const { answer } = poolInTest({ workers: 2, workMs: 700 }, STUBBORN_WORKER);
    const stuck = answer(FOR_EVER);
    const [before, after] = [answer("work 300"), answer("work 300")];
    const error = await stuck.catch((why: unknown) => why);
    expect(error).toBeInstanceOf(WorkStopped);
    expect((error as WorkStopped).refused.findings).toMatchObject([{ rule: "work-too-long" }]);
    expect(await Promise.all([before, after, answer("done")])).toEqual(["done", "done", "done"]);
  });

  test.each(["eat", "eat-list", "eat-map"])("takes all the memory there is (%s)", async (work) => {
    const { answer } = poolInTest({ workers: 2, workerMemoryMb: 64 }, STUBBORN_WORKER);
    const other = answer("work 300");
    const error = await answer(work).catch((why: unknown) => why);
    expect(error).toBeInstanceOf(WorkStopped);
    expect((error as WorkStopped).refused.findings).toMatchObject([{ rule: "work-too-heavy" }]);
    expect(await other).toBe("done");
    expect(await answer("done")).toBe("done");
  });
});

test("whoever goes away takes its order along: the one that is worked on, and the one that waits", async () => {
  const { pool, answer } = poolInTest({}, STUBBORN_WORKER);
  const [worked, waited] = [new AbortController(), new AbortController()];
  const leaving = [answer(FOR_EVER, worked.signal), answer(FOR_EVER, waited.signal)];
  expect([pool.working, pool.waiting]).toEqual([1, 1]);
  waited.abort();
  worked.abort();
  const ends = await Promise.allSettled(leaving);
  expect(ends.map(({ status }) => status)).toEqual(["rejected", "rejected"]);
  expect(await answer("done")).toBe("done");
});

test("no worker is left when the pool is closed, and nothing is begun any more", async () => {
  const { pool, answer } = poolInTest({ isReady: true }, STUBBORN_WORKER);
  const processId = Number(await answer("who"));
  const [worked, waited] = [answer(FOR_EVER), answer("done")];
  pool.close();
  const ends = await Promise.allSettled([worked, waited, answer("done")]);
  expect(ends.map(({ status }) => status)).toEqual(["rejected", "rejected", "rejected"]);
  await expect.poll(() => isRunning(processId), { timeout: 20_000 }).toBe(false);
});

function isRunning(processId: number): boolean {
  try {
    return process.kill(processId, 0);
  } catch {
    return false;
  }
}
