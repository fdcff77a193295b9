import { execFileSync, spawnSync } from "node:child_process";
import { join } from "node:path";
import { isSharedHere, SHARED } from "./shared.js";

/** A lead sheet as the outside judge reads it: measure (from 1), beat, then what is there. */
export interface JudgedReading {
  readonly file: string;
  readonly error?: string;
  readonly melody: readonly (readonly [number, number, number, number])[];
  readonly chords: readonly (readonly [number, number, readonly number[] | null])[];
}

export const isJudgeHere = isSharedHere && spawnSync("python3", ["--version"]).status === 0;

const SCRIPT = `
import contextlib, io, json, sys
sys.path.insert(0, sys.argv[1])
import verify
for path in sys.stdin.read().split("\\n"):
    out = io.StringIO()
    try:
        with contextlib.redirect_stdout(out):
            code = verify.main(["--read", path])
        text = out.getvalue()
        read = json.loads(text) if code == 0 else dict(error=text.strip())
    except Exception as error:
        read = dict(error=repr(error))
    print(json.dumps(dict(read, file=path)))
`;

/** Reads many files in one run. */
export function readByJudge(paths: readonly string[]): readonly JudgedReading[] {
  const printed = execFileSync("python3", ["-c", SCRIPT, join(SHARED, "check")], {
    input: paths.join("\n"),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  return printed
    .trim()
    .split("\n")
    .map((line) => JSON.parse(line) as JudgedReading);
}
