import { lineName, type Sign } from "./mark-kinds.js";

/** Lines that have begun and not ended, each with what is known of it. */
export interface OpenLines<Line> {
  /**
   * The line that a sign goes on or ends; undefined for one that begins, for one that is no line, and for an end
   * whose beginning is missing: that is a mark by itself.
   */
  readonly lineOf: (sign: LineSign) => Line | undefined;
  /** Remembers a sign that begins a line. */
  readonly begin: (sign: LineSign, line: Line) => void;
}

/** A sign and what it stands on: lines on notes and lines above a staff are different lines. */
export interface LineSign extends Pick<Sign, "element" | "end"> {
  readonly on: string;
}

export function openLines<Line>(): OpenLines<Line> {
  const open = new Map<string, Line>();
  const keyOf = ({ on, element }: LineSign) => `${on} ${lineName(element)}`;
  return {
    lineOf: (sign) => {
      if (sign.end === undefined || sign.end === "start") return undefined;
      const line = open.get(keyOf(sign));
      if (sign.end === "stop") open.delete(keyOf(sign));
      return line;
    },
    begin: (sign, line) => {
      if (sign.end === "start") open.set(keyOf(sign), line);
    },
  };
}
