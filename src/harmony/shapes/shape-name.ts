import { parseDegree } from "../chord-degree.js";
import type { Shape } from "./shape-table.js";

const ORDINALS: Readonly<Record<number, string>> = {
  1: "root",
  2: "second",
  3: "third",
  4: "fourth",
  5: "fifth",
  6: "sixth",
  7: "seventh",
  9: "ninth",
  11: "eleventh",
  13: "thirteenth",
};

/** "drop-2, seventh lowest"; "close triad, root lowest, the melody in place of the 5, over the slash bass". */
export function shapeName({ family, lowest, melodyFor, isOverBass }: Shape): string {
  const stands = melodyFor === undefined ? "" : `, the melody in place of the ${melodyFor}`;
  return `${family}, ${ORDINALS[parseDegree(lowest).number] ?? lowest} lowest${stands}${isOverBass ? ", over the slash bass" : ""}`;
}
