import Fraction from "fraction.js";
import { childText, type XmlElement } from "../../xml/xml-tree.js";
import type { Quarters } from "../timeline/exact-time.js";
import { NUMBER_LIMITS, type NumberLimit, type NumberName } from "./number-limits.js";

/** No number that means anything is longer; working out one of a million digits would take for ever. */
const LONGEST_NUMBER = 32;

/** A whole number as nearly all are written: a number of the language holds it, and is read in no time. */
const PLAIN = /^[+-]?\d{1,9}$/;

/** A decimal exactly, blanks around it allowed; undefined for anything else, "3/2" too, and beyond the limits. */
function exactWithin(text: string, limit: NumberLimit): Quarters | undefined {
  if (PLAIN.test(text)) {
    const plain = plainWithin(text, limit);
    return plain === undefined ? undefined : new Fraction(plain);
  }
  const { least, most } = limit;
  if (text.length > LONGEST_NUMBER || !/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) return undefined;
  const value = new Fraction(text.replace(/\.$/, ""));
  return value.gte(least) && value.lte(most) ? value : undefined;
}

function plainWithin(text: string, { least, most }: NumberLimit): number | undefined {
  const value = Number(text);
  // No number of a score is a zero below zero.
  return value >= least && value <= most ? value + 0 : undefined;
}

/** A number exactly as it stands, blanks around it allowed; undefined where it is none or beyond its limits. */
export const exactNumber = (name: NumberName, text: string | undefined): Quarters | undefined =>
  text === undefined ? undefined : exactWithin(text.trim(), NUMBER_LIMITS[name]);

/**
 * A number within its limits; undefined for anything else. A whole one may have a needless ".0", a sum is
 * added up.
 */
export function numberFrom(name: NumberName, text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const limit: NumberLimit = NUMBER_LIMITS[name];
  if (limit.form === "sum") return sumFrom(text, limit);
  const plain = text.trim();
  if (PLAIN.test(plain)) return plainWithin(plain, limit);
  const value = exactNumber(name, text);
  return value === undefined || (limit.form === "whole" && value.d !== 1n) ? undefined : value.valueOf();
}

/** The number in the first child of its name; undefined where there is none, or none within the limits. */
export const numberIn = (holder: XmlElement, name: NumberName): number | undefined =>
  numberFrom(name, childText(holder, name));

export const exactIn = (holder: XmlElement, name: NumberName): Quarters | undefined =>
  exactNumber(name, childText(holder, name));

/** "1, 2" is two numbers, "1-3" three; what is none, or none within the limits, is left out. */
export function numbersFrom(name: NumberName, text: string): ReadonlySet<number> {
  const numbers = new Set<number>();
  for (const piece of piecesOf(text)) for (const number of rangeFrom(name, piece) ?? []) numbers.add(number);
  return numbers;
}

/** Whether a text says what its name asks for. */
export const isReadable = (name: NumberName, text: string): boolean =>
  NUMBER_LIMITS[name].form === "list"
    ? piecesOf(text).every((piece) => rangeFrom(name, piece) !== undefined)
    : numberFrom(name, text) !== undefined;

const piecesOf = (text: string): readonly string[] => text.split(/[\s,.]+/).filter((piece) => piece !== "");

function rangeFrom(name: NumberName, piece: string): readonly number[] | undefined {
  const limit = { ...NUMBER_LIMITS[name], form: "whole" } as const;
  const [first, last = first, ...others] = piece
    .split("-")
    .map((end) => exactWithin(end, limit))
    .map((end) => (end?.d === 1n ? end.valueOf() : undefined));
  if (first === undefined || last === undefined || others.length > 0) return undefined;
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => first + index);
}

function sumFrom(text: string, { least, most }: NumberLimit): number | undefined {
  if (text.length > LONGEST_NUMBER) return undefined;
  const terms = text.split("+").map((term) => term.trim());
  if (!terms.every((term) => /^\d+$/.test(term))) return undefined;
  const sum = terms.reduce((total, term) => total + Number(term), 0);
  return sum >= least && sum <= most ? sum : undefined;
}
