import { readdirSync, readFileSync } from "node:fs";
import { dirname, posix } from "node:path";
import { fileURLToPath } from "node:url";

/** The folders of the sources and what their files import of one another, read from the files themselves. */

const CHECKOUT = fileURLToPath(new URL("../../", import.meta.url));
const TOPS = ["src", "server", "plugin-adapters"];

/** One file that imports another; both from the top of the checkout, such as "src/song/pitch.ts". */
export interface Import {
  readonly from: string;
  readonly to: string;
}

export const roomOf = (file: string): string => dirname(file);

/** Every folder with TypeScript in it. */
export const rooms = (): readonly string[] => [...new Set(sourceFiles().map(roomOf))].toSorted();

/** Imports within the sources, packages and Node's own modules aside; types count as well. */
export const imports = (): readonly Import[] =>
  sourceFiles().flatMap((from) =>
    [...read(from).matchAll(/(?:\bfrom|\bimport)\s*\(?\s*"([^"]+)"/g)].flatMap(([, named = ""]) => {
      const to = fileNamed(named, from);
      return to === undefined ? [] : [{ from, to }];
    }),
  );

function sourceFiles(): readonly string[] {
  return TOPS.flatMap((top) =>
    readdirSync(`${CHECKOUT}${top}`, { recursive: true, encoding: "utf8" })
      .map((path) => `${top}/${path.replaceAll("\\", "/")}`)
      .filter((path) => path.endsWith(".ts")),
  );
}

const read = (path: string): string => readFileSync(`${CHECKOUT}${path}`, "utf8");

/** The file that an import names: by its place, by the library's name, or by its place in the build. */
function fileNamed(named: string, from: string): string | undefined {
  if (named === "undervoice") return "src/index.ts";
  const path = named.startsWith(".")
    ? posix.normalize(posix.join(roomOf(from), named))
    : named.startsWith("#built/")
      ? inSources(named.slice("#built/".length))
      : undefined;
  return path?.replace(/\.js$/, ".ts");
}

const inSources = (built: string): string =>
  /^(server|plugin-adapters)\//.test(built) ? built : `src/${built}`;

/** Sets of names that import one another in a circle; each name is in one set at most. */
export function circles(links: readonly Import[]): readonly (readonly string[])[] {
  const next = new Map<string, Set<string>>();
  for (const { from, to } of links) next.set(from, (next.get(from) ?? new Set()).add(to));
  const reachedFrom = (start: string): ReadonlySet<string> => {
    const reached = new Set<string>();
    const open = [start];
    for (let name = open.pop(); name !== undefined; name = open.pop())
      for (const other of next.get(name) ?? [])
        if (!reached.has(other)) {
          reached.add(other);
          open.push(other);
        }
    return reached;
  };
  const reach = new Map([...next.keys()].map((name) => [name, reachedFrom(name)]));
  const inCircle = [...reach].filter(([name, reached]) => reached.has(name)).map(([name]) => name);
  const sets = inCircle.map((name) =>
    inCircle.filter((other) => reach.get(name)?.has(other) === true && reach.get(other)?.has(name) === true),
  );
  return [...new Map(sets.map((set) => [set.join(), set])).values()];
}
