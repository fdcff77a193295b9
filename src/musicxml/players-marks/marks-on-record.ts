import { type Digests, measuresIn, shortDigest } from "../../arrangement/measure-digests.js";
import { childrenNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { isDashedBracket, signsOfDirection, signsOnNote } from "./mark-kinds.js";
import { type OpenLines, openLines } from "./open-lines.js";

/**
 * The marks that a guitar part was written with, for the record: what comes back and is not on it is the
 * player's own. A measure that has any is its position and a few letters a mark: "3 k3fa a91x;7 k3fa". undefined
 * where there are none. Dashed brackets are left out: nearly all are those of barres.
 */
export function marksOnRecord(parts: readonly XmlElement[]): string | undefined {
  const measures = new Map<number, string[]>();
  for (const part of parts) {
    const lines = openLines<true>();
    childrenNamed(part, "measure").forEach((measure, index) => {
      for (const name of markNamesIn(measure, lines)) {
        const letters = measures.get(index) ?? [];
        letters.push(shortDigest(name));
        measures.set(index, letters);
      }
    });
  }
  const texts = [...measures].map(([index, letters]) => [index + 1, ...letters].join(" "));
  return texts.length === 0 ? undefined : texts.join(";");
}

function markNamesIn(measure: XmlElement, lines: OpenLines<true>): readonly string[] {
  const names: string[] = [];
  for (const child of measure.children) {
    if (child.kind !== "element" || (child.name !== "note" && child.name !== "direction")) continue;
    const signs = child.name === "note" ? signsOnNote(child) : signsOfDirection(child);
    if (signs.length === 0) continue;
    const on = `${child.name} ${childText(child, "staff") ?? "1"}`;
    for (const { name, end, element } of signs) {
      const isGoingOn = lines.lineOf({ on, end, element });
      lines.begin({ on, end, element }, true);
      if (!isGoingOn && !isDashedBracket({ element }) && name !== "pluck") names.push(name);
    }
  }
  return names;
}

/** How many marks of some name one of so many measures was written with, or may have been. */
export function countOnRecord(
  { marks = "", guitar }: Digests,
  measures: number,
  measure: number,
  name: string,
): number {
  const left = marksLeft(marks, measuresIn(guitar) === measures);
  let count = 0;
  while (left.take(measure, name)) count += 1;
  return count;
}

/** What is left of a record while marks are taken off it. */
export interface MarksLeft {
  /** Takes a mark off the record; false where it is not on it. */
  readonly take: (measure: number, name: string) => boolean;
}

/** `isInPlace`: there are as many measures as then; else a mark may have been in any. */
export function marksLeft(record: string, isInPlace: boolean): MarksLeft {
  const left = new Map<string, number>();
  const keyOf = (measure: number | string, letters: string) =>
    isInPlace ? `${measure} ${letters}` : letters;
  for (const text of record === "" ? [] : record.split(";")) {
    const [measure = "", ...marks] = text.split(" ");
    for (const letters of marks)
      left.set(keyOf(measure, letters), (left.get(keyOf(measure, letters)) ?? 0) + 1);
  }
  return {
    take: (measure, name) => {
      const key = keyOf(measure + 1, shortDigest(name));
      const count = left.get(key) ?? 0;
      if (count > 0) left.set(key, count - 1);
      return count > 0;
    },
  };
}
