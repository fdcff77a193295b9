import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const TUNE = leadSheetFromText("title: Two Geese\n\n[C] G4/2 E4/4 C5/4 | [G7] B4/2 [C] C5/2 ||\n");

let folder = "";
const running: ChildProcess[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "undervoice-"));
  mkdirSync(join(folder, "in"));
});
afterEach(() => {
  for (const child of running.splice(0)) child.kill("SIGKILL");
  rmSync(folder, { recursive: true, force: true });
});

const inFolder = (name: string) => join(folder, name);

function started(words: readonly string[]) {
  const { UNDERVOICE_SERVICE: _other, ...env } = process.env;
  const child = spawn(process.execPath, [MAIN, ...words], {
    cwd: folder,
    env,
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.push(child);
  let said = "";
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (bytes: Buffer) => {
      said += bytes.toString();
    });
  return {
    said: () => said,
    ended: once(child, "close").then(([status]) => status as number),
    until: (text: string | RegExp) =>
      vi.waitFor(() => expect(said).toMatch(text), { timeout: 30_000, interval: 20 }),
    interrupt: () => child.kill("SIGINT"),
  };
}

describe("watch", () => {
  test("arranges what is there and what comes, until it is interrupted", async () => {
    writeFileSync(inFolder("in/early.musicxml"), TUNE);
    const watch = started(["watch", "in", "out", "--staves", "tab", "--still", "200"]);
    await watch.until(/early\.musicxml -> early-guitar\.musicxml/);
    writeFileSync(inFolder("in/late.xml"), TUNE);
    await watch.until(/late\.xml -> late-guitar\.musicxml/);
    writeFileSync(inFolder("in/bad.xml"), "<score");
    await watch.until(/bad\.xml: not arranged; see bad\.xml\.note\.txt\n {2}bad\.xml, line 1.*error:/);
    watch.interrupt();
    expect(await watch.ended).toBe(0);
    expect(readdirSync(inFolder("in")).toSorted()).toEqual(["bad.xml", "early.musicxml", "late.xml"]);
    const score = readFileSync(inFolder("out/early-guitar.musicxml"), "utf8");
    expect([...score.matchAll(/<part /g)]).toHaveLength(2);
  });

  test.each([
    [["watch"], 2, "watch takes a folder"],
    [["watch", "in", "out", "more"], 2, "there are 3"],
    [["watch", "in", "--still", "soon"], 2, "--still takes milliseconds"],
    [["watch", "in", "--frets", "99"], 2, "frets"],
    [["watch", "nowhere"], 3, "nowhere: cannot be watched: there is no such file or folder"],
  ])("%j is refused with %d", async (words, status, why) => {
    const watch = started(words);
    expect(await watch.ended).toBe(status);
    expect(watch.said()).toContain(why);
  });
});

describe("adapt", () => {
  const manifest = (fields: object) => {
    writeFileSync(inFolder("host.json"), JSON.stringify({ name: "Test program", ...fields }));
    return "host.json";
  };

  test("watches the folders of a manifest with its options, and says what the program loses", async () => {
    writeFileSync(inFolder("in/tune.musicxml"), TUNE);
    const fields = { kind: "folder", exportsTo: "in", importsFrom: "out", staves: "tab", drops: ["fingers"] };
    const adapt = started(["adapt", manifest(fields), "--lead", "drop"]);
    await adapt.until(/tune\.musicxml -> tune-guitar\.musicxml/);
    adapt.interrupt();
    expect(await adapt.ended).toBe(0);
    expect(adapt.said()).toContain("Test program: It shows no fingers");
    const score = readFileSync(inFolder("out/tune-guitar.musicxml"), "utf8");
    expect([...score.matchAll(/<part /g)]).toHaveLength(1);
  });

  test("runs the command of a manifest with a score, and ends as it does", async () => {
    writeFileSync(inFolder("in/tune.musicxml"), TUNE);
    const fields = { kind: "command", staves: "joined", options: { diagrams: true, scaleLength: 630 } };
    const good = started(["adapt", manifest(fields), "in/tune.musicxml"]);
    expect(await good.ended, good.said()).toBe(0);
    const score = readFileSync(inFolder("in/tune-guitar.musicxml"), "utf8");
    expect(score).toContain("<staves>2</staves>");
    expect(score).toContain("<frame");
    writeFileSync(inFolder("in/tune.musicxml"), TUNE.slice(0, 99));
    const bad = started(["adapt", "host.json", "in/tune.musicxml"]);
    expect(await bad.ended).toBe(1);
    expect(existsSync(inFolder("in/tune.musicxml.note.txt"))).toBe(true);
  });

  test("says how a program with a script engine is to be served", async () => {
    const adapt = started(["adapt", manifest({ kind: "script", staves: "tab" })]);
    expect(await adapt.ended).toBe(2);
    const [, file = ""] = /load (.*undervoice-client\.js) in it/.exec(adapt.said()) ?? [];
    expect(existsSync(file)).toBe(true);
    expect(adapt.said()).toContain('undervoiceRoundTrip(host, {"options":{"staves":"tab"}}, done)');
  });

  test.each([
    [{ kind: "folder", exportsTo: "in" }, ["tune.musicxml"], 2, "takes no score"],
    [{ kind: "command" }, [], 2, "which score?"],
    [{ kind: "folder", exportsTo: "nowhere" }, [], 3, "nowhere: cannot be watched"],
    [{ kind: "folder" }, [], 2, 'host.json: the manifest lacks "exportsTo"'],
    [{ kind: "folder", exportsTo: "in", options: { capo: 11 } }, ["--frets", "24"], 2, "capo"],
  ])("%j with %j is refused with %d", async (fields, words, status, why) => {
    const adapt = started(["adapt", manifest(fields), ...words]);
    expect(await adapt.ended).toBe(status);
    expect(adapt.said()).toContain(why);
  });

  test("a manifest that is not there is a file that cannot be read", async () => {
    const adapt = started(["adapt", "no.json"]);
    expect(await adapt.ended).toBe(3);
    expect(adapt.said()).toContain("no.json: cannot be read");
  });
});
