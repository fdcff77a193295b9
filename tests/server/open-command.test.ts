import { spawn } from "node:child_process";
import { chmodSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, expect, test } from "vitest";
import { SHORT_TUNE } from "./service-in-test.js";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));

const folder = mkdtempSync(join(tmpdir(), "undervoice-open-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** A person's browser: it writes down what it was told to open. */
const seen = join(folder, "seen.txt");
for (const name of ["xdg-open", "open"]) {
  writeFileSync(join(folder, name), `#!/bin/sh\nprintf %s "$1" > "${seen}"\n`);
  chmodSync(join(folder, name), 0o755);
}

test.skipIf(process.platform === "win32")(
  "a score is opened in the person's browser at an address that nobody else can guess",
  async () => {
    const score = join(folder, "two geese.musicxml");
    writeFileSync(score, SHORT_TUNE);
    const child = spawn(process.execPath, [MAIN, "open", score, "--port", "0"], {
      env: { ...process.env, PATH: [folder, dirname(process.execPath), "/bin", "/usr/bin"].join(delimiter) },
    });
    try {
      const said = await new Promise<string>((resolve, reject) => {
        child.stdout.on("data", (text: Buffer) => resolve(text.toString()));
        child.on("exit", () => reject(new Error("it ended")));
      });
      const [address = ""] = /http:\S+/.exec(said) ?? [];
      await expect.poll(() => readFileSync(seen, { encoding: "utf8", flag: "a+" })).toBe(address);
      const { origin, hash } = new URL(address);
      const [word, name] = hash.slice(1).split("/");
      expect(decodeURIComponent(name ?? "")).toBe("two geese.musicxml");
      expect(word).toMatch(/^[0-9a-f-]{36}$/);
      const given = await fetch(`${origin}/waiting/${word}`);
      expect(await given.text()).toBe(SHORT_TUNE);
      expect((await fetch(`${origin}/waiting/another`)).status).toBe(404);
    } finally {
      child.kill();
    }
  },
);
