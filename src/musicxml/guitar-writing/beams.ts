import type { Measure } from "../../song/tune.js";
import { attributeOf, childrenNamed, textOf, type XmlElement } from "../../xml/xml-tree.js";
import { numberFrom } from "../numbers/read-number.js";
import { NOTE_TYPES } from "../timeline/note-types.js";
import { beatTicks } from "./split-duration.js";
import type { VoiceItem } from "./voice-item.js";

/** Beams of one note by level, the eighth's first: "begin", "continue", "end", "forward hook", "backward hook". */
export type Beams = readonly string[];

export const beamsOf = (note: XmlElement): Beams => {
  const byLevel: string[] = [];
  for (const beam of childrenNamed(note, "beam"))
    byLevel[(numberFrom("beam@number", attributeOf(beam, "number")) ?? 1) - 1] = textOf(beam).trim();
  return byLevel.includes("") ? [] : byLevel;
};

/** Whether every beam that begins also ends before the row does, at each level. Rests may stand between. */
export function areWhole(row: readonly Beams[]): boolean {
  const levels = Math.max(0, ...row.map((beams) => beams.length));
  for (let level = 0; level < levels; level++) {
    let isOpen = false;
    for (const beams of row) {
      const beam = beams[level];
      if (beam === "begin" ? isOpen : (beam === "continue" || beam === "end") && !isOpen) return false;
      if (beam === "begin") isOpen = true;
      if (beam === "end") isOpen = false;
    }
    if (isOpen) return false;
  }
  return true;
}

/** Beams by the beat, for items in a row of which none is a grace note. Rests and gaps end a beam. */
export function beamsByBeat(
  items: readonly VoiceItem[],
  measure: Measure,
  ticksPerQuarter: number,
): readonly Beams[] {
  const beat = beatTicks(measure, ticksPerQuarter);
  const beatOf = (item: VoiceItem) => Math.floor((item.at - measure.start) / beat);
  const flags = items.map((item) => (item.kind === "notes" ? flagsOf(item) : 0));
  const joined = items.map((item, index) => {
    const next = items[index + 1];
    return next !== undefined && beatOf(item) === beatOf(next);
  });
  const levelOf = (index: number, level: number) => (flags[index] ?? 0) > level;
  return items.map((_, index) => {
    const beams: string[] = [];
    const isBeamed = (level: number, side: -1 | 1) =>
      levelOf(index + side, level) && (side === 1 ? joined[index] : joined[index - 1]) === true;
    if (!isBeamed(0, -1) && !isBeamed(0, 1)) return [];
    for (let level = 0; level < (flags[index] ?? 0); level++) {
      const before = isBeamed(level, -1);
      const after = isBeamed(level, 1);
      if (before) beams.push(after ? "continue" : "end");
      else if (after) beams.push("begin");
      else beams.push(isBeamed(0, -1) ? "backward hook" : "forward hook");
    }
    return beams;
  });
}

const QUARTER = NOTE_TYPES.indexOf("quarter");

const flagsOf = ({ value }: VoiceItem): number =>
  value === undefined ? 0 : Math.max(0, NOTE_TYPES.indexOf(value.type) - QUARTER);
