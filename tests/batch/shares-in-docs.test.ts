import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Job } from "kubernetes-models/batch/v1/Job";
import { afterAll, beforeAll, expect, test } from "vitest";
import { parse } from "yaml";
import { harmony, leadSheet, note } from "../support/score-text.js";

/** The program as it is installed; `npm test` builds it first. */
const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const PAGE = readFileSync("docs/batch.md", "utf8");
const textOf = (pattern: RegExp): string => pattern.exec(PAGE)?.[1] ?? "";
const ARRAY = textOf(/```sh\n(#!\/bin\/sh\n#SBATCH[\s\S]*?)```/);
const INDEXED = textOf(/```yaml\n([\s\S]*?)```/);

const folder = mkdtempSync(join(tmpdir(), "undervoice-shares-"));
beforeAll(() => {
  mkdirSync(join(folder, "bin"));
  mkdirSync(join(folder, "shelf"));
  writeFileSync(join(folder, "bin/undervoice"), `#!/bin/sh\nexec '${process.execPath}' '${MAIN}' "$@"\n`, {
    mode: 0o755,
  });
  for (const name of ["one", "two", "three", "four"])
    writeFileSync(join(folder, "shelf", `${name}.musicxml`), leadSheet(harmony("C") + note("C5", 16)));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Runs a line of the page as the shell there does. */
function share(script: string, variables: Readonly<Record<string, string>>, cwd = folder): void {
  const { status, stderr } = spawnSync("/bin/sh", ["-c", script], {
    cwd,
    encoding: "utf8",
    env: { ...process.env, ...variables, PATH: `${join(folder, "bin")}${delimiter}${process.env.PATH}` },
  });
  expect(status, stderr).toBe(0);
}

const scoresIn = (name: string) =>
  readdirSync(join(folder, name)).filter((one) => one.endsWith("-guitar.musicxml"));

test("the shares of a Slurm array as the page has it do the whole shelf", () => {
  expect(ARRAY).toMatch(/^#SBATCH --array=1-\d+$/m);
  for (const task of ["1", "2", "3"])
    share(ARRAY, {
      SHELF: "shelf",
      OUT: "array",
      SLURM_ARRAY_TASK_ID: task,
      SLURM_ARRAY_TASK_COUNT: "3",
    });
  expect(scoresIn("array")).toHaveLength(4);
}, 60_000);

test("the Kubernetes Indexed Job of the page is one by the schema, and its shares do the whole shelf", () => {
  const job = parse(INDEXED);
  expect(() => new Job(job).validate()).not.toThrow();
  expect(() => new Job({ ...job, spec: { ...job.spec, completions: "many" } }).validate()).toThrow();
  const { completionMode, completions, template } = job.spec;
  expect(completionMode).toBe("Indexed");
  const [container] = template.spec.containers;
  expect(container.args[0]).toContain(`/${completions}"`);
  expect(completions).toBeLessThanOrEqual(1_000);
  const mounted = container.volumeMounts.map(({ name }: { name: string }) => name);
  expect(template.spec.volumes.map(({ name }: { name: string }) => name)).toEqual(mounted);
  const script = container.args[0]
    .replace("/shelf", "shelf")
    .replace("/guitar", "guitar")
    .replace(`/${completions}"`, '/3"');
  for (const index of ["0", "1", "2"]) share(script, { JOB_COMPLETION_INDEX: index });
  expect(scoresIn("guitar")).toHaveLength(4);
}, 60_000);

test("the container file packs the program from a checkout, and what it starts is a command of ours", () => {
  const file = readFileSync("docs/Containerfile", "utf8");
  const [, build = ""] = /^RUN (npm ci .*)$/m.exec(file) ?? [];
  const packed = join(folder, "packed");
  const npm = spawnSync("/bin/sh", ["-c", "command -v npm"], { encoding: "utf8" }).stdout.trim();
  // The packages are there, and built: the rest is done for real.
  writeFileSync(
    join(folder, "bin/npm"),
    `#!/bin/sh\n[ "$1" = ci ] && exit\nexec '${npm}' "$@" --ignore-scripts\n`,
    { mode: 0o755 },
  );
  share(build.replaceAll("/packed", `'${packed}'`), {}, ".");
  expect(readdirSync(packed)).toEqual([expect.stringMatching(/^undervoice-.*\.tgz$/)]);
  expect(file).toContain(
    "--mount=from=build,source=/packed,target=/packed npm install --global /packed/*.tgz",
  );
  const [, command = "[]"] = /^CMD (\[.*\])$/m.exec(file) ?? [];
  share(JSON.parse(command).join(" "), {});
  expect(JSON.parse(command)[0]).toBe("undervoice");
}, 120_000);
