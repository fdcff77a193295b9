/** A few measures that two sets of weights play otherwise, with a measure before and after. */
export interface Passage {
  readonly tune: string;
  readonly measures: readonly number[];
  /** What is said of each moment, played in the one way and in the other. */
  readonly ways: readonly [readonly string[], readonly string[]];
}

/** By tune and texture, what is said of its moments. */
export type Said = Readonly<Record<string, readonly string[]>>;

/** The passages that differ, each once, in an order of its own. */
export function passagesIn(one: Said, other: Said, random: () => number): readonly Passage[] {
  const different = new Map<string, Passage>();
  for (const [tune, lines] of Object.entries(one)) {
    const ways = [momentsIn(lines), momentsIn(other[tune] ?? [])] as const;
    if (ways[0].length !== ways[1].length) continue;
    const differing = ways[0].flatMap(({ measure, played }, index) =>
      played === ways[1][index]?.played ? [] : [measure],
    );
    for (const measures of together([...new Set(differing)])) {
      const first = (measures[0] ?? 0) - 1;
      const last = (measures.at(-1) ?? 0) + 1;
      const [before, after] = ways.map((moments) =>
        moments.filter(({ measure }) => measure >= first && measure <= last).map(({ line }) => line),
      );
      const passage = { tune, measures, ways: [before ?? [], after ?? []] as const };
      // What comes again in a tune is no second opinion.
      const name = passage.ways
        .flat()
        .join(" ")
        .replaceAll(/measure \d+( \(numbered [^)]*\))?/g, "");
      if (!different.has(name)) different.set(name, passage);
    }
  }
  return [...different.values()]
    .map((passage) => ({ passage, at: random() }))
    .toSorted((a, b) => a.at - b.at)
    .map(({ passage }) => passage);
}

interface Moment {
  readonly measure: number;
  readonly line: string;
  /** The line without what the hand does afterwards. */
  readonly played: string;
}

const momentsIn = (lines: readonly string[]): readonly Moment[] =>
  lines.flatMap((line) => {
    const measure = /^measure (\d+)/.exec(line)?.[1];
    if (measure === undefined) return [];
    return [{ measure: Number(measure), line, played: line.split(". ")[0] ?? line }];
  });

/** As many measures as are read in one look. */
const MOST_MEASURES = 4;

function together(measures: readonly number[]): readonly (readonly number[])[] {
  const groups: number[][] = [];
  for (const measure of measures) {
    const group = groups.at(-1);
    const isNext = group !== undefined && measure - (group.at(-1) ?? 0) <= 1;
    if (isNext && group.length < MOST_MEASURES) group.push(measure);
    else groups.push([measure]);
  }
  return groups;
}

/** What a reader wrote: a number, P or Q or =, how strongly, and why. */
export function counted(read: string, otherIsFirst: readonly boolean[]): Readonly<Record<string, number>> {
  const counts = { "as it is": 0, changed: 0, equal: 0 };
  for (const [, number, letter] of read.matchAll(/^\s*(\d+)[.:]?\s+([PQ=])/gm)) {
    const isOtherFirst = otherIsFirst[Number(number) - 1];
    if (isOtherFirst === undefined) continue;
    if (letter === "=") counts.equal += 1;
    else counts[(letter === "P") === isOtherFirst ? "changed" : "as it is"] += 1;
  }
  return counts;
}
