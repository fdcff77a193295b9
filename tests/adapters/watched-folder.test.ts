import { execFileSync } from "node:child_process";
import {
  appendFileSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  unlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterEach, describe, expect, test } from "vitest";
import { signatureOf } from "../../plugin-adapters/watched-folder/folder-look.js";
import { readStillFile } from "../../plugin-adapters/watched-folder/read-still-file.js";
import { folderPair } from "./folder-pair.js";
import { arrangerInTest, guitarScore, score, type WatchInTest, watchInTest } from "./watch-in-test.js";

const open: WatchInTest[] = [];
afterEach(async () => {
  for (const watch of open.splice(0)) {
    await watch.close();
    watch.remove();
  }
});

async function watching(settings: Parameters<typeof watchInTest>[0] = {}): Promise<WatchInTest> {
  const watch = await watchInTest(settings);
  open.push(watch);
  return watch;
}

const put = ({ inFolder }: { inFolder: string }, name: string, text: string) =>
  writeFileSync(join(inFolder, name), text);

describe("a score that is still being written", () => {
  test("is read once it is whole, and once only", async () => {
    const watch = await watching({ pace: { stillMs: 1_200 } });
    const whole = score("slow export");
    for (let end = 0; end < whole.length; end += 10) {
      appendFileSync(join(watch.inFolder, "tune.musicxml"), whole.slice(end, end + 10));
      await pause(60);
    }
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    expect(watch.arranger.runs).toEqual(["slow export"]);
  });

  test("is waited for even if it was begun before the watch", async () => {
    const pair = folderPair();
    put(pair, "tune.musicxml", score("early").slice(0, 10));
    const watch = await watching({ pair, pace: { stillMs: 1_200 } });
    await pause(200);
    put(pair, "tune.musicxml", score("early"));
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    expect(watch.arranger.runs).toEqual(["early"]);
  });

  test("is read again before it is called cut off, and gets no note when the rest arrives", async () => {
    const watch = await watching();
    watch.arranger.whenAsked = (run) => {
      if (run === 1) put(watch, "tune.musicxml", score("two halves"));
    };
    put(watch, "tune.musicxml", score("two halves").slice(0, 30));
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    expect(watch.about("tune.musicxml")).toEqual(["arranged"]);
  });

  test("is called cut off after a few readings, and nothing is left of a guitar score", async () => {
    const watch = await watching();
    put(watch, "tune.musicxml", score("never whole").slice(0, 30));
    await watch.until(() => watch.about("tune.musicxml").includes("noted"));
    await watch.manyLooks();
    expect(watch.arranger.runs).toHaveLength(3);
    expect(readdirSync(watch.outFolder)).toEqual(["tune.musicxml.note.txt"]);
    expect(readFileSync(join(watch.outFolder, "tune.musicxml.note.txt"), "utf8")).toContain(
      "tune.musicxml, line 1, column 20: error: The file is cut off.",
    );
  });

  test("is not read if it has changed since it was looked at", async () => {
    const pair = folderPair();
    const path = join(pair.inFolder, "tune.musicxml");
    put(pair, "tune.musicxml", score("before"));
    const signature = signatureOf(statSync(path, { bigint: true }));
    expect(await readStillFile(path, signature)).toMatchObject({ kind: "read" });
    put(pair, "tune.musicxml", score("after!"));
    expect(await readStillFile(path, signature)).toEqual({ kind: "changed" });
    pair.remove();
  });
});

describe("a program that saves by renaming", () => {
  test("is followed from save to save, even where the new file is as long and as old as the one before", async () => {
    const watch = await watching();
    const path = join(watch.inFolder, "tune.musicxml");
    const then = new Date("2020-02-02T02:02:02Z");
    for (const text of ["save 1", "save 2", "save 3"]) {
      const draft = join(watch.inFolder, ".tune.draft");
      writeFileSync(draft, score(text));
      utimesSync(draft, then, then);
      renameSync(draft, path);
      await watch.until(() => watch.arranger.runs.includes(text));
      await watch.until(() => existsSync(join(watch.outFolder, "tune-guitar.musicxml")));
    }
    await watch.until(() => watch.madeFrom("tune-guitar.musicxml") === "save 3");
    expect(watch.arranger.runs).toEqual(["save 1", "save 2", "save 3"]);
  });

  test("or by deleting and writing anew has not given up its score", async () => {
    const watch = await watching({ pace: { stillMs: 1_500 } });
    put(watch, "tune.musicxml", score("first come"));
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    put(watch, "tune.xml", score("second"));
    await watch.until(() => watch.about("tune.xml").includes("noted"));
    unlinkSync(join(watch.inFolder, "tune.musicxml"));
    await pause(200);
    put(watch, "tune.musicxml", score("first come, saved"));
    await watch.until(() => watch.about("tune.musicxml").length === 2);
    expect(watch.madeFrom("tune-guitar.musicxml")).toBe("first come, saved");
    expect(watch.about("tune.xml")).toEqual(["noted"]);
  });

  test("nobody who reads a guitar score meanwhile sees half of one: it is put in place by renaming", async () => {
    const watch = await watching();
    const output = join(watch.outFolder, "tune-guitar.musicxml");
    put(watch, "tune.musicxml", score("one"));
    await watch.until(() => watch.about("tune.musicxml").length === 1);
    const { ino } = statSync(output);
    put(watch, "tune.musicxml", score("two"));
    await watch.until(() => watch.about("tune.musicxml").length === 2);
    expect(statSync(output).ino).not.toBe(ino);
    expect(readdirSync(watch.outFolder).filter((name) => name.endsWith(".part"))).toEqual([]);
  });
});

describe("guitar scores in the watched folder itself", () => {
  test("are not arranged again: so many scores, so many runs", async () => {
    const watch = await watching({ pair: folderPair(true) });
    const names = ["one.musicxml", "two.xml", "three.musicxml", "a-guitar.musicxml"];
    for (const name of names) put(watch, name, score(name));
    await watch.until(() => names.every((name) => watch.about(name).includes("arranged")));
    await watch.manyLooks();
    expect(watch.arranger.runs.toSorted()).toEqual(names.toSorted());
    expect(readdirSync(watch.inFolder).filter((name) => name.endsWith("-guitar.musicxml"))).toHaveLength(5);
    expect(readdirSync(watch.inFolder).filter((name) => name.endsWith(".note.txt"))).toEqual([]);
  });

  test("are known when the watch is started anew", async () => {
    const watch = await watching({ pair: folderPair(true) });
    put(watch, "one.musicxml", score("one"));
    await watch.until(() => watch.about("one.musicxml").includes("arranged"));
    const next = await watch.again();
    open.push(next);
    await next.until(() => next.about("one.musicxml").includes("unchanged"));
    await next.manyLooks();
    expect(next.arranger.runs).toEqual([]);
  });

  test("are known for ours when the watch was ended between its record and the guitar score", async () => {
    const watch = await watching({ pair: folderPair(true) });
    put(watch, "one.musicxml", score("one"));
    await watch.until(() => watch.about("one.musicxml").includes("arranged"));
    await watch.close();
    const path = join(watch.outFolder, ".undervoice-written.json");
    const record = JSON.parse(readFileSync(path, "utf8")) as Record<string, Record<string, string>>;
    const one = record["one-guitar.musicxml"] ?? {};
    // What the next run would have written, had it not been ended before the guitar score was in its place.
    const meant = { ...one, inputHash: "another", outputHash: "not there", beforeHash: one.outputHash };
    writeFileSync(path, JSON.stringify({ "one-guitar.musicxml": meant }));
    put(watch, "one.musicxml", score("one more"));
    const next = await watching({ pair: watch });
    await next.until(() => next.about("one.musicxml").includes("arranged"));
    expect(next.madeFrom("one-guitar.musicxml")).toBe("one more");
    expect(readdirSync(watch.inFolder).filter((name) => name.endsWith(".note.txt"))).toEqual([]);
  });

  test("what a watch that was ended left half-written goes; what may be in writing stays", async () => {
    const pair = folderPair();
    const old = join(pair.outFolder, ".undervoice-0f0e0d0c-0b0a-4908-8706-050403020100.part");
    const young = join(pair.outFolder, ".undervoice-1f0e0d0c-0b0a-4908-8706-050403020100.part");
    const foreign = join(pair.outFolder, "tune.part");
    for (const path of [old, young, foreign]) writeFileSync(path, "<score-partw");
    for (const path of [old, foreign]) utimesSync(path, 1_000_000, 1_000_000);
    await watching({ pair });
    expect([old, young, foreign].map((path) => existsSync(path))).toEqual([false, true, true]);
  });

  test("a score that is saved again without a change is not arranged again", async () => {
    const watch = await watching();
    put(watch, "one.musicxml", score("one"));
    await watch.until(() => watch.about("one.musicxml").includes("arranged"));
    utimesSync(join(watch.inFolder, "one.musicxml"), new Date(), new Date());
    await watch.until(() => watch.about("one.musicxml").includes("unchanged"));
    expect(watch.arranger.runs).toEqual(["one"]);
  });

  test("a guitar score that a person put in to be arranged again keeps its name", async () => {
    const watch = await watching();
    put(watch, "one-guitar.musicxml", guitarScore("one, edited"));
    await watch.until(() => watch.about("one-guitar.musicxml").includes("arranged"));
    expect(watch.madeFrom("one-guitar.musicxml")).toBe("one, edited");
  });

  test("from a program that keeps no sign of ours, they are told by their name", async () => {
    const watch = await watching({ keepsOwnMark: false });
    put(watch, "one-guitar.musicxml", score("one, exported again"));
    await watch.until(() => watch.about("one-guitar.musicxml").includes("leftAlone"));
    expect(watch.arranger.runs).toEqual([]);
  });
});

describe("links", () => {
  const elsewhere = mkdtempSync(join(tmpdir(), "undervoice-elsewhere-"));
  const outside = join(elsewhere, "diary.musicxml");
  afterEach(() => writeFileSync(outside, score("diary")));
  writeFileSync(outside, score("diary"));

  test("in the watched folder are not followed, nor is a pipe waited for", async () => {
    const pair = folderPair();
    symlinkSync(outside, join(pair.inFolder, "link.musicxml"));
    symlinkSync("round.musicxml", join(pair.inFolder, "round.musicxml"));
    symlinkSync(elsewhere, join(pair.inFolder, "folder.musicxml"));
    execFileSync("mkfifo", [join(pair.inFolder, "pipe.musicxml")]);
    mkdirSync(join(pair.inFolder, "deep.musicxml"));
    const watch = await watching({ pair });
    put(watch, "tune.musicxml", score("tune"));
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    await watch.manyLooks();
    expect(watch.arranger.runs).toEqual(["tune"]);
    for (const name of ["link", "round", "folder", "pipe"])
      expect(watch.about(`${name}.musicxml`), name).toEqual(["leftAlone"]);
  });

  test("that take the place of a score after the look are not followed", async () => {
    const pair = folderPair();
    symlinkSync(outside, join(pair.inFolder, "tune.musicxml"));
    // As if the look had seen the very file the link points to.
    const signature = signatureOf(statSync(outside, { bigint: true }));
    expect(await readStillFile(join(pair.inFolder, "tune.musicxml"), signature)).toEqual({ kind: "changed" });
    pair.remove();
  });

  test("in the place of a guitar score or of a note lead to no file elsewhere", async () => {
    const pair = folderPair();
    symlinkSync(outside, join(pair.outFolder, "tune-guitar.musicxml"));
    symlinkSync(outside, join(pair.outFolder, "broken.musicxml.note.txt"));
    symlinkSync(outside, join(pair.outFolder, ".undervoice-written.json"));
    const watch = await watching({ pair });
    put(watch, "tune.musicxml", score("tune"));
    put(watch, "other.musicxml", score("other"));
    put(watch, "broken.musicxml", "<score");
    await watch.until(() => watch.about("broken.musicxml").includes("noted"));
    await watch.until(() => watch.about("tune.musicxml").includes("noted"));
    await watch.until(() => watch.about("other.musicxml").includes("arranged"));
    expect(readFileSync(outside, "utf8")).toBe(score("diary"));
    expect(lstatSync(join(pair.outFolder, "broken.musicxml.note.txt")).isFile()).toBe(true);
    expect(lstatSync(join(pair.outFolder, "tune-guitar.musicxml")).isSymbolicLink()).toBe(true);
  });
});

describe("saves and guitar scores", () => {
  test("one save in many steps is one run", async () => {
    const watch = await watching({ pace: { stillMs: 1_000 } });
    for (let step = 1; step <= 8; step++) {
      put(watch, "tune.musicxml", score(`step ${step}`));
      await pause(30);
    }
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    await watch.manyLooks();
    expect(watch.arranger.runs).toEqual(["step 8"]);
  });

  test("a save while the one before is arranged waits for it, and is what stays", async () => {
    const arranger = arrangerInTest();
    let atOnce = 0;
    let most = 0;
    const watch = await watching({ arranger });
    arranger.whenAsked = async (run) => {
      atOnce++;
      most = Math.max(most, atOnce);
      // The first takes far longer than the second, which is there and still long before it is done.
      if (run === 1) {
        put(watch, "tune.musicxml", score("new"));
        await pause(1_200);
      }
      atOnce--;
    };
    put(watch, "tune.musicxml", score("old"));
    await watch.until(() => watch.about("tune.musicxml").length === 2);
    await watch.manyLooks();
    expect(arranger.runs).toEqual(["old", "new"]);
    expect(most).toBe(1);
    expect(watch.madeFrom("tune-guitar.musicxml")).toBe("new");
  });

  test("two scores that would become one guitar score: the second gets a note, and its turn when the first goes", async () => {
    const watch = await watching();
    put(watch, "tune.musicxml", score("first"));
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    put(watch, "Tune.xml", score("second"));
    await watch.until(() => watch.about("Tune.xml").includes("noted"));
    expect(watch.madeFrom("tune-guitar.musicxml")).toBe("first");
    expect(readFileSync(join(watch.outFolder, "Tune.xml.note.txt"), "utf8")).toContain(
      "Tune.xml and tune.musicxml would both become Tune-guitar.musicxml",
    );
    unlinkSync(join(watch.inFolder, "tune.musicxml"));
    await watch.until(() => watch.about("Tune.xml").includes("arranged"));
    expect(readdirSync(watch.outFolder).toSorted()).toEqual([
      ".undervoice-written.json",
      "Tune-guitar.musicxml",
      "tune-guitar.musicxml",
    ]);
  });

  test("the first of two keeps its guitar score when the watch is started anew", async () => {
    const watch = await watching();
    // So large that the second would be read before it, and have the name, if nothing were remembered.
    put(watch, "tune.xml", " ".repeat(8_000_000) + score("first"));
    await watch.until(() => watch.about("tune.xml").includes("arranged"));
    put(watch, "tune.musicxml", score("second"));
    await watch.until(() => watch.about("tune.musicxml").includes("noted"));
    const next = await watch.again();
    open.push(next);
    await next.until(() => next.about("tune.musicxml").includes("noted"));
    expect(next.madeFrom("tune-guitar.musicxml")).toBe("first");
  });

  test.each([
    [
      "worked on since",
      async (watch: WatchInTest) => {
        put(watch, "tune.musicxml", score("draft"));
        await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
      },
    ],
    ["there before", async () => {}],
  ])("a guitar score that was %s is not replaced, and is said to be in the way", async (_when, before) => {
    const watch = await watching();
    await before(watch);
    const output = join(watch.outFolder, "tune-guitar.musicxml");
    writeFileSync(output, guitarScore("hours of work"));
    put(watch, "tune.musicxml", score("new draft"));
    await watch.until(() => watch.about("tune.musicxml").includes("noted"));
    expect(watch.madeFrom("tune-guitar.musicxml")).toBe("hours of work");
    rmSync(output);
    put(watch, "tune.musicxml", score("newest draft"));
    await watch.until(() => watch.about("tune.musicxml").at(-1) === "arranged");
    expect(watch.madeFrom("tune-guitar.musicxml")).toBe("newest draft");
    expect(existsSync(join(watch.outFolder, "tune.musicxml.note.txt"))).toBe(false);
  });

  test("the note on a score goes with it", async () => {
    const watch = await watching();
    put(watch, "tune.musicxml", "<score");
    await watch.until(() => watch.about("tune.musicxml").includes("noted"));
    unlinkSync(join(watch.inFolder, "tune.musicxml"));
    await watch.until(() => readdirSync(watch.outFolder).length === 0);
  });
});

describe("the folders", () => {
  test("a watched folder that goes away is waited for, and the one that comes in its place is watched", async () => {
    const watch = await watching();
    renameSync(watch.inFolder, `${watch.inFolder}-old`);
    await watch.until(() => watch.events.some(({ kind }) => kind === "trouble"));
    mkdirSync(watch.inFolder);
    put(watch, "tune.musicxml", score("back"));
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    rmSync(`${watch.inFolder}-old`, { recursive: true });
  });

  test("a folder for guitar scores that goes away costs no score: it is tried again", async () => {
    const watch = await watching();
    rmSync(watch.outFolder, { recursive: true });
    put(watch, "tune.musicxml", score("patient"));
    await watch.until(() => watch.events.some(({ kind }) => kind === "trouble"));
    mkdirSync(watch.outFolder);
    await watch.until(() => watch.about("tune.musicxml").includes("arranged"));
    expect(watch.madeFrom("tune-guitar.musicxml")).toBe("patient");
  });

  test("a folder that is not there at the start is refused", async () => {
    const pair = folderPair();
    await expect(watchInTest({ pair: { ...pair, inFolder: join(pair.inFolder, "no") } })).rejects.toThrow(
      "ENOENT",
    );
    pair.remove();
  });

  test("hidden files, temporary files and files that are no scores are nobody's business", async () => {
    const watch = await watching();
    for (const name of [".tune.musicxml", "~$tune.musicxml", "tune.txt", "tune.musicxml.bak", "musicxml"])
      put(watch, name, score(name));
    put(watch, "TUNE.MUSICXML", score("loud"));
    await watch.until(() => watch.about("TUNE.MUSICXML").includes("arranged"));
    await watch.manyLooks();
    expect(watch.arranger.runs).toEqual(["loud"]);
  });
});
