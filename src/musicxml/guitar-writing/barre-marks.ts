import type { Arrangement, Barre } from "../../arrangement/arrangement.js";
import { placementsAt } from "../../arrangement/hand-moves.js";
import type { Tune } from "../../song/tune.js";
import {
  attributeOf,
  childrenNamed,
  element,
  elementsOf,
  textOf,
  type XmlElement,
} from "../../xml/xml-tree.js";
import type { Timed } from "../lead-sheet/lead-sheet.js";
import type { HandPosition } from "./hand-positions.js";

/** One barre from the first grip that needs it to the end of the last, at its widest. */
export interface BarreRun {
  readonly barre: Barre;
  readonly start: number;
  readonly end: number;
  /** Whether it stays through more than one grip. */
  readonly isHeld: boolean;
}

/** A barre that stops at least this many strings is a full one. */
const FULL_BARRE_STRINGS = 5;

/**
 * "CV", "½CII": C for the barre, half where it is partial, its fret in Roman numerals; the numeral alone for
 * a position. Classical guitar practice.
 */
export const isHandWord = (text: string): boolean => /^(½?C)?[IVX]+$/.test(text.trim());

const ROMAN: readonly (readonly [number, string])[] = [
  [10, "X"],
  [9, "IX"],
  [5, "V"],
  [4, "IV"],
  [1, "I"],
];

/** The finger whose barre has a sign. Other fingers that lie across strings show by their digits alone. */
const INDEX_FINGER = 1;

/** Quarter notes for which a barre counts as kept while the index finger has nothing else to do. */
const KEPT_QUARTERS = 2;

/**
 * Barres of an arrangement; one that stays at its fret through grips that follow each other is one run, and
 * so is one that is needed again before the index finger goes elsewhere.
 */
export function barreRuns(arrangement: Arrangement, { melody, ticksPerQuarter }: Tune): readonly BarreRun[] {
  const { events, supports } = arrangement;
  const runs = new Set<BarreRun>();
  let open: readonly BarreRun[] = [];
  events.forEach((event, index) => {
    const note = melody[event.melodyNote ?? -1];
    const soundsUntil = Math.max(
      note === undefined ? event.onset : note.onset + note.length,
      ...event.supports.map((support) => supports[support]?.end ?? event.onset),
    );
    const end = Math.min(events[index + 1]?.onset ?? soundsUntil, soundsUntil);
    const barres = event.barres.filter(({ finger }) => finger === INDEX_FINGER);
    const isKept = (run: BarreRun) =>
      event.onset - run.end <= KEPT_QUARTERS * ticksPerQuarter &&
      placementsAt(arrangement, event).every(
        ({ finger, fret }) => finger !== INDEX_FINGER || fret === run.barre.fret,
      );
    const kept = open.filter(isKept);
    if (barres.length === 0) {
      open = kept;
      return;
    }
    open = barres.map((barre) => {
      const isAtFret = (run: BarreRun) => run.barre.fret === barre.fret;
      const before = open.find((run) => isAtFret(run) && run.end === event.onset) ?? kept.find(isAtFret);
      if (before !== undefined) runs.delete(before);
      const run = {
        barre: widest(barre, before?.barre),
        start: before?.start ?? event.onset,
        end,
        isHeld: before !== undefined,
      };
      runs.add(run);
      return run;
    });
  });
  return [...runs].filter(({ start, end }) => end > start).sort((one, other) => one.start - other.start);
}

const widest = (barre: Barre, before: Barre = barre): Barre => ({
  ...barre,
  from: Math.max(barre.from, before.from),
  to: Math.min(barre.to, before.to),
});

export const barreText = ({ fret, from, to }: Barre): string =>
  `${from - to + 1 >= FULL_BARRE_STRINGS ? "" : "½"}C${roman(fret)}`;

function roman(number: number): string {
  let [rest, text] = [number, ""];
  for (const [value, numeral] of ROMAN)
    while (rest >= value) {
      text += numeral;
      rest -= value;
    }
  return text;
}

/** A barre's or position's name, or the begin or end of a barre's line, at a time in ticks. */
export interface BarreMark {
  readonly at: number;
  readonly element: XmlElement;
  readonly isEnd: boolean;
}

/** Numbers of lines that a lead sheet hardly uses; the highest that all versions of the format know. */
export const BARRE_LINE_NUMBERS: readonly number[] = [6, 5];

/** The marks of barres that come in order of their start. A line is drawn where a barre is held on. */
export function barreMarksOf(runs: readonly BarreRun[]): readonly BarreMark[] {
  let lastEnd = Number.NEGATIVE_INFINITY;
  return runs.flatMap(({ barre, start, end, isHeld }) => {
    if (!isHeld) return [{ at: start, element: barreNameElement(barreText(barre)), isEnd: false }];
    const number = BARRE_LINE_NUMBERS[lastEnd > start ? 1 : 0] ?? 6;
    lastEnd = Math.max(lastEnd, end);
    return [
      { at: start, element: barreNameElement(barreText(barre)), isEnd: false },
      { at: start, element: barreLineElement("start", number), isEnd: false },
      { at: end, element: barreLineElement("stop", number), isEnd: true },
    ];
  });
}

/** Points; small enough that the names of two barres, a beat apart, stand side by side. */
const WORD_SIZE = 9;

/** The name of a barre. In a `<direction>` of its own: some programs lose words that share one with a line. */
const barreNameElement = (name: string): XmlElement =>
  element("direction", { placement: "above" }, [
    element("direction-type", {}, [element("words", { "font-size": WORD_SIZE }, [name])]),
  ]);

/** The numerals of positions in which the hand settles. Classical guitar practice. */
export const positionMarksOf = (positions: readonly HandPosition[]): readonly BarreMark[] =>
  positions.map(({ fret, at }) => ({ at, element: barreNameElement(roman(fret)), isEnd: false }));

/** The line that shows how long it is held. A bracket, because dashes are read as a trill by some programs. */
const barreLineElement = (type: "start" | "stop", number: number): XmlElement =>
  element("direction", { placement: "above" }, [
    element("direction-type", {}, [
      element("bracket", {
        type,
        number,
        "line-end": type === "start" ? "none" : "down",
        "line-type": "dashed",
      }),
    ]),
  ]);

export const isNameOfBarre = (direction: XmlElement): boolean => contentsOf(direction).some(isBarreName);

/**
 * The barre marks among the directions of a whole part that was written here before: where that part is
 * the lead sheet, they are made anew. A line is one of ours where it begins with the name of a barre; so is the end of a
 * line that lost its begin, where it looks as ours do.
 */
export function barreMarksAmong(directions: readonly Timed[]): ReadonlySet<XmlElement> {
  const names = directions.filter(({ element: direction }) => isNameOfBarre(direction));
  const named = new Set(names.map(({ at }) => at));
  const marks = new Set(names.map(({ element: direction }) => direction));
  // By the number of a line that is open whether it is one of ours.
  const open = new Map<string, boolean>();
  for (const { at, element: direction } of directions) {
    const bracket = contentsOf(direction).find(({ name }) => name === "bracket");
    if (bracket === undefined) continue;
    const number = attributeOf(bracket, "number") ?? "1";
    const type = attributeOf(bracket, "type");
    if (type === "start") open.set(number, named.has(at));
    const isOurs = open.get(number) ?? (type === "stop" && looksLikeEnd(bracket));
    if (type === "stop") open.delete(number);
    if (isOurs) marks.add(direction);
  }
  return marks;
}

const looksLikeEnd = (bracket: XmlElement): boolean =>
  BARRE_LINE_NUMBERS.includes(Number(attributeOf(bracket, "number"))) &&
  attributeOf(bracket, "line-end") === "down" &&
  attributeOf(bracket, "line-type") === "dashed";

const contentsOf = (direction: XmlElement): readonly XmlElement[] =>
  childrenNamed(direction, "direction-type").flatMap(elementsOf);

const isBarreName = (content: XmlElement): boolean => content.name === "words" && isHandWord(textOf(content));
