import { attributeOf, withAttribute, withElements, type XmlElement } from "../../xml/xml-tree.js";
import { BARRE_LINE_NUMBERS } from "../guitar-writing/barre-marks.js";
import { lineElement } from "./mark-kinds.js";
import { type Mark, whenOf } from "./marks-on-staff.js";

/** A line with the number that tells it from others that run at the same time. */
export interface Numbered {
  readonly mark: Mark;
  readonly number: number;
}

/** Numbers of lines that all versions of the format know. */
const LINE_NUMBERS = [1, 2, 3, 4, 5, 6];

/**
 * A number for a player's line among those that are `made` and those `hung` before it: its own, or where another
 * line has that at the same time, the lowest that is free. undefined for what is no line.
 */
export function lineNumber(mark: Mark, made: readonly Mark[], hung: readonly Numbered[]): number | undefined {
  const [first] = mark.pieces;
  if (first?.sign.end === undefined) return undefined;
  const own = numberOf(mark);
  const isLike = (other: Mark) => lineKind(other) === lineKind(mark);
  const taken = [
    // The lines of barres are made anew and are no marks.
    ...(lineKind(mark) === "direction bracket" ? BARRE_LINE_NUMBERS : []),
    ...made
      .filter((other) => isLike(other) && startOf(other) <= endOf(mark) && startOf(mark) <= endOf(other))
      .map(numberOf),
    // A player's own lines may follow one another under one number.
    ...hung
      .filter(
        (other) =>
          isLike(other.mark) && startOf(other.mark) < endOf(mark) && startOf(mark) < endOf(other.mark),
      )
      .map(({ number }) => number),
  ];
  return taken.includes(own) ? (LINE_NUMBERS.find((number) => !taken.includes(number)) ?? own) : own;
}

/** A sign with another number, where it has another. */
export function withLineNumber(sign: XmlElement, number: number | undefined): XmlElement {
  const line = lineElement(sign);
  if (number === undefined || numberIn(line) === number) return sign;
  const changed = withAttribute(line, "number", number);
  return line === sign ? changed : withElements(sign, (child) => (child === line ? changed : child));
}

const lineKind = ({ pieces: [first] }: Mark): string | undefined =>
  first?.sign.end === undefined ? undefined : `${first.kind} ${lineElement(first.sign.element).name}`;

const numberOf = ({ pieces: [first] }: Mark): number =>
  first === undefined ? 1 : numberIn(lineElement(first.sign.element));

const numberIn = (line: XmlElement): number => Number(attributeOf(line, "number") ?? 1);

/** Measure and time in one number; a measure is shorter than a thousand quarters. */
const startOf = ({ measure, at }: Mark): number => measure * 1e6 + at;

function endOf(mark: Mark): number {
  const last = mark.pieces.at(-1);
  if (last === undefined) return startOf(mark);
  const { measure, at } = whenOf(last);
  return measure * 1e6 + at;
}
