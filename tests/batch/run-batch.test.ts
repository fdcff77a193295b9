import { expect, test } from "vitest";
import { BatchRecord } from "../../src/batch/batch-record.js";
import { type BatchSettings, type BatchWorld, hashOf, runBatch } from "../../src/batch/run-batch.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { answerOrder } from "../../src/work/answer-order.js";
import { WorkStopped } from "../../src/work/workers/work-stopped.js";
import { harmony, leadSheet, note } from "../support/score-text.js";

const TUNE = leadSheet(harmony("C") + note("C5", 16));
const OTHER_TUNE = leadSheet(harmony("C") + note("D5", 16));
const bytes = (text: string) => new TextEncoder().encode(text);

/** Files in memory; inputs by path, outputs under the output folder. */
class World implements BatchWorld {
  readonly outputs = new Map<string, Uint8Array>();
  record = "";
  asked = 0;
  constructor(readonly inputs: Map<string, string>) {}
  async readInput(path: string) {
    const text = this.inputs.get(path);
    if (text === undefined) throw new Error(`${path}: there is no such file`);
    return bytes(text);
  }
  readOutput = async (output: string) => this.outputs.get(output);
  async putOutput(output: string, content: Uint8Array) {
    this.outputs.set(output, content);
  }
  async addToRecord(line: string) {
    this.record += line;
  }
  seenFromOutput = (input: string) => `../${input}`;
  async answer(order: Parameters<BatchWorld["answer"]>[0]) {
    this.asked += 1;
    if (new TextDecoder().decode(order.score) === "slow") throw new WorkStopped("time", 1);
    return answerOrder(order);
  }
}

const jobs = (...names: string[]) =>
  names.map((name) => ({ input: `${name}.xml`, output: `${name}-guitar.musicxml` }));

/** More than are in hand at once. */
const MANY = Array.from({ length: 30 }, (_, at) => `s${at}`);

const worldOf = (...names: string[]) => new World(new Map(names.map((name) => [`${name}.xml`, TUNE])));

async function ran(world: World, names: readonly string[], more: Partial<BatchSettings> = {}) {
  const run = await runBatch(
    jobs(...names),
    {
      options: completeOptions({}),
      isCompressed: false,
      program: "1",
      workers: 2,
      isResumed: false,
      mayReplace: false,
      record: new BatchRecord([world.record]),
      onRow: () => {},
      isTold: () => false,
      ...more,
    },
    world,
  );
  const outcomes = Object.fromEntries(run.rows.map(({ input, outcome }) => [input, outcome]));
  return { ...run, outcomes };
}

test("one bad score, one that takes too long and one that is gone stop none of the others", async () => {
  const world = worldOf("a", "b", "c", "d", "e");
  world.inputs.set("b.xml", "<score-partwise/>");
  world.inputs.set("c.xml", "slow");
  world.inputs.delete("d.xml");
  const { outcomes, rows } = await ran(world, ["a", "b", "c", "d", "e"]);
  expect(outcomes).toEqual({
    "a.xml": "arranged",
    "b.xml": "refused",
    "c.xml": "stopped",
    "d.xml": "trouble",
    "e.xml": "arranged",
  });
  expect([...world.outputs.keys()].toSorted()).toEqual(["a-guitar.musicxml", "e-guitar.musicxml"]);
  const saysOf = (input: string) => rows.find((row) => row.input === input)?.says.join();
  expect(saysOf("b.xml")).toContain("no melody");
  expect(saysOf("c.xml")).toContain("more than 1 seconds");
  expect(saysOf("d.xml")).toContain("no such file");
});

test("resumed, what is done and unchanged is left out, and all of it stands in the summary", async () => {
  const world = worldOf("a", "b", "c");
  const first = await ran(world, ["a", "b", "c"]);
  world.asked = 0;
  const again = await ran(world, ["a", "b", "c"], { isResumed: true });
  expect(world.asked).toBe(0);
  expect(new Set(again.rows)).toEqual(new Set(first.rows));
});

test("resumed, a changed lead sheet, other options and a guitar score that is gone are done again", async () => {
  const world = worldOf("a", "b", "c");
  await ran(world, ["a", "b", "c"]);
  world.inputs.set("a.xml", OTHER_TUNE);
  world.outputs.delete("b-guitar.musicxml");
  world.asked = 0;
  expect(Object.values((await ran(world, ["a", "b", "c"], { isResumed: true })).outcomes)).toEqual([
    "arranged",
    "arranged",
    "arranged",
  ]);
  expect(world.asked).toBe(2);
  const options = completeOptions({ texture: "lean" });
  await ran(world, ["a", "b", "c"], { isResumed: true, options });
  expect(world.asked).toBe(5);
});

test("a guitar score that somebody worked on is left as it is, unless it may be replaced", async () => {
  const world = worldOf("a");
  await ran(world, ["a"]);
  world.outputs.set("a-guitar.musicxml", bytes("edited"));
  expect((await ran(world, ["a"])).outcomes).toEqual({ "a.xml": "leftAlone" });
  expect(world.outputs.get("a-guitar.musicxml")).toEqual(bytes("edited"));
  expect((await ran(world, ["a"], { mayReplace: true })).outcomes).toEqual({ "a.xml": "arranged" });
});

test("ended between record and guitar score, the next batch knows the old one for its own", async () => {
  const world = worldOf("a");
  await ran(world, ["a"]);
  const before = world.outputs.get("a-guitar.musicxml") ?? bytes("");
  world.inputs.set("a.xml", OTHER_TUNE);
  await ran(world, ["a"]);
  const after = world.outputs.get("a-guitar.musicxml") ?? bytes("");
  expect(hashOf(after)).not.toBe(hashOf(before));
  world.outputs.set("a-guitar.musicxml", before);
  expect((await ran(world, ["a"], { isResumed: true })).outcomes).toEqual({ "a.xml": "arranged" });
  expect(world.outputs.get("a-guitar.musicxml")).toEqual(after);
});

test("a disk that is full ends the batch with what is wrong, and no further score is begun", async () => {
  const world = worldOf(...MANY);
  world.putOutput = async () => {
    throw Object.assign(new Error("out: there is no room left"), { code: "ENOSPC" });
  };
  const { cannotGoOn, rows } = await ran(world, MANY);
  expect(cannotGoOn?.message).toContain("no room left");
  expect(rows.length).toBeLessThan(10);
  expect(rows.every(({ outcome }) => outcome === "trouble")).toBe(true);
});

test("a record that cannot be written ends the batch, whatever the reason", async () => {
  const world = worldOf(...MANY);
  world.addToRecord = async () => {
    throw Object.assign(new Error("record: it is not permitted"), { code: "EACCES" });
  };
  const { cannotGoOn, rows } = await ran(world, MANY);
  expect(cannotGoOn?.message).toContain("not permitted");
  expect(rows.length).toBeLessThan(10);
  expect(world.outputs.size).toBe(0);
});

test("what is wrong with a score names its file once", async () => {
  const { rows } = await ran(worldOf(), ["gone"]);
  expect(rows[0]?.says).toEqual(["there is no such file"]);
});

test("told to end, it finishes the scores in hand and begins no other", async () => {
  const world = worldOf(...MANY);
  let isTold = false;
  const { rows } = await ran(world, MANY, {
    onRow: () => {
      isTold = true;
    },
    isTold: () => isTold,
  });
  expect(rows.length).toBeGreaterThan(0);
  expect(rows.length).toBeLessThanOrEqual(3);
  expect(world.outputs.size).toBe(rows.length);
});
