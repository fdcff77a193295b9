import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { LEAD_SHEETS } from "./lead-sheets.js";
import { counted, passagesIn, type Said } from "./pairs/passages.js";

/**
 * Puts passages that changed weights play otherwise beside the same as it is, for a reader who does not know which is
 * which, and counts what was preferred:
 *
 *     npm run pairs -- --weights move.travel.eachMm=2 --out FOLDER [--every 12] [--from 0] [--most 50]
 *     npm run pairs -- --count FOLDER
 *
 * The reader has `pairs.txt` alone, and writes `read.txt`: a line an item, "7 Q 2 | in a few words".
 */
const { values } = parseArgs({
  options: {
    weights: { type: "string", default: "" },
    folder: { type: "string", default: LEAD_SHEETS },
    out: { type: "string", default: "pairs" },
    every: { type: "string", default: "12" },
    from: { type: "string", default: "0" },
    most: { type: "string", default: "50" },
    count: { type: "string" },
  },
});

const HEAD = `Each item is a passage of a lead sheet, arranged in two ways, P and Q, for one guitar: melody on top, grips under it.
For each say which you would have to change less before you hand it to a student: its number, P, Q or =, how strongly
(1 to 3), and why: "7 Q 2 | in a few words".
Where: string:fret-finger, from the lowest string up.
`;

if (values.count === undefined) {
  const passages = passagesIn(explained(""), explained(values.weights), Math.random).slice(
    0,
    Number(values.most),
  );
  const isOtherFirst = passages.map(() => Math.random() < 0.5);
  const items = passages.map(({ tune, measures, ways: [before, after] }, index) => {
    const [first, second] = isOtherFirst[index] ? [after, before] : [before, after];
    const which = `measures ${measures[0]} to ${measures.at(-1)} differ`;
    return [`=== ${index + 1}. ${tune}, ${which}`, "P", ...first, "Q", ...second].join("\n");
  });
  mkdirSync(values.out, { recursive: true });
  writeFileSync(join(values.out, "pairs.txt"), `${HEAD}\n${items.join("\n\n")}\n`);
  writeFileSync(join(values.out, "key.json"), JSON.stringify(isOtherFirst));
  console.log(`${passages.length} passages in ${join(values.out, "pairs.txt")}`);
} else {
  const isOtherFirst = JSON.parse(readFileSync(join(values.count, "key.json"), "utf8")) as readonly boolean[];
  const counts = counted(readFileSync(join(values.count, "read.txt"), "utf8"), isOtherFirst);
  for (const [which, count] of Object.entries(counts)) console.log(`${which}: ${count}`);
}

function explained(weights: string): Said {
  const script = fileURLToPath(new URL("pairs/explained.js", import.meta.url));
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    [script, values.folder, values.every, values.from, weights],
    { encoding: "utf8", maxBuffer: 2 ** 30 },
  );
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Said;
}
