import { FileTrouble, type Outside, STANDARD_STREAM } from "../../src/cli/outside.js";
import { run } from "../../src/cli/run.js";

/** What a command left behind: its exit status, what it printed and the files there are. */
export interface Ran {
  readonly status: number;
  /** Standard output as text, and as it came. */
  readonly output: string;
  readonly outputBytes: Uint8Array;
  readonly errors: string;
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** Runs the program in this process over files held in memory; "-" among them is standard input. */
export async function runInMemory(
  words: readonly string[],
  given: Readonly<Record<string, string | Uint8Array>> = {},
): Promise<Ran> {
  const bytes = (content: string | Uint8Array) =>
    typeof content === "string" ? new TextEncoder().encode(content) : content;
  const files = new Map(Object.entries(given).map(([path, content]) => [path, bytes(content)]));
  const output: Uint8Array[] = [];
  let errors = "";
  const outside: Outside = {
    async read(path) {
      const found = files.get(path);
      if (found === undefined) throw new FileTrouble(path, "read", { code: "ENOENT" });
      return found;
    },
    isThere: async (path) => files.has(path),
    isFile: async (path) => files.has(path),
    async write(all) {
      const barred = all.find(({ path }) => path.startsWith("/barred/"));
      if (barred !== undefined) throw new FileTrouble(barred.path, "written", { code: "EACCES" });
      for (const { path, bytes: content } of all) files.set(path, content);
    },
    toStandardOutput: (content) => void output.push(bytes(content)),
    toStandardError: (text) => {
      errors += text;
    },
    duringWork: (_saying, work) => work(),
  };
  const status = await run(words, outside);
  files.delete(STANDARD_STREAM);
  const outputBytes = Buffer.concat(output);
  return { status, output: outputBytes.toString("utf8"), outputBytes, errors, files };
}
