import { isAbsolute, normalize, posix, sep } from "node:path";
import { outputNameFor, sameFileKey } from "../files/file-names.js";

/** A lead sheet and where it belongs under the output folder, "/" between folders. */
export interface ScoreAsked {
  readonly input: string;
  readonly place: string;
}

export interface BatchJob {
  readonly input: string;
  /** The guitar score under the output folder, "/" between folders. */
  readonly output: string;
}

/** Lead sheets that would become one guitar score. */
export interface Collision {
  readonly inputs: readonly string[];
  readonly output: string;
}

/** A file named by itself keeps the folders it was named with; one that lies elsewhere keeps its name alone. */
export function placeOf(input: string): string {
  const place = normalize(input).split(sep).join("/");
  return isAbsolute(input) || place.startsWith("../") ? posix.basename(place) : place;
}

/** What is to be done, in an order that is the same on every machine, and what cannot be. */
export function batchJobs(
  scores: readonly ScoreAsked[],
  isCompressed: boolean,
): { readonly jobs: readonly BatchJob[]; readonly collisions: readonly Collision[] } {
  const jobs = scores
    .map(({ input, place }) => ({ input, output: outputOf(place, isCompressed) }))
    .toSorted((a, b) => (a.output < b.output ? -1 : a.output > b.output ? 1 : a.input < b.input ? -1 : 1));
  const byOutput = new Map<string, BatchJob[]>();
  for (const job of jobs) {
    const key = sameFileKey(job.output);
    byOutput.set(key, [...(byOutput.get(key) ?? []), job]);
  }
  const collisions = [...byOutput.values()]
    .filter((same) => same.length > 1)
    .map((same) => ({ inputs: same.map(({ input }) => input), output: same[0]?.output ?? "" }));
  return { jobs, collisions };
}

const outputOf = (place: string, isCompressed: boolean): string =>
  posix.join(
    posix.dirname(place),
    outputNameFor(posix.basename(place), { isCompressed, isGuitarScore: false }),
  );
