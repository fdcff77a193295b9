import type { Arrangement, Barre } from "../../arrangement/arrangement.js";
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

/** One barre from the first grip that needs it to the end of the last, at its widest. */
export interface BarreRun {
  readonly barre: Barre;
  readonly start: number;
  readonly end: number;
}

/** A barre that stops at least this many strings is a full one. */
const FULL_BARRE_STRINGS = 5;

/** "CV", "½CII": C for the barre, half where it is partial, its fret in Roman numerals. Classical guitar practice. */
const BARRE_WORDS = /^½?C[IVX]+$/;

const ROMAN: readonly (readonly [number, string])[] = [
  [10, "X"],
  [9, "IX"],
  [5, "V"],
  [4, "IV"],
  [1, "I"],
];

/** The finger whose barre has a sign. Other fingers that lie across strings show by their digits alone. */
const INDEX_FINGER = 1;

/** Barres of an arrangement; one that stays at its fret through grips that follow each other is one run. */
export function barreRuns({ events, supports }: Arrangement, { melody }: Tune): readonly BarreRun[] {
  const runs = new Set<BarreRun>();
  let open: readonly BarreRun[] = [];
  events.forEach((event, index) => {
    const note = melody[event.melodyNote ?? -1];
    const soundsUntil = Math.max(
      note === undefined ? event.onset : note.onset + note.length,
      ...event.supports.map((support) => supports[support]?.end ?? event.onset),
    );
    const end = Math.min(events[index + 1]?.onset ?? soundsUntil, soundsUntil);
    open = event.barres
      .filter(({ finger }) => finger === INDEX_FINGER)
      .map((barre) => {
        const before = open.find((run) => run.barre.fret === barre.fret && run.end === event.onset);
        if (before !== undefined) runs.delete(before);
        const run = { barre: widest(barre, before?.barre), start: before?.start ?? event.onset, end };
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

/** A barre's name, or the begin or end of its line, at a time in ticks. */
export interface BarreMark {
  readonly at: number;
  readonly element: XmlElement;
  readonly isEnd: boolean;
}

/** Numbers of lines that a lead sheet hardly uses; the highest that all versions of the format know. */
const LINE_NUMBERS = [6, 5];

/** The marks of barres that come in order of their start. */
export function barreMarksOf(runs: readonly BarreRun[]): readonly BarreMark[] {
  let lastEnd = Number.NEGATIVE_INFINITY;
  return runs.flatMap(({ barre, start, end }) => {
    const number = LINE_NUMBERS[lastEnd > start ? 1 : 0] ?? 6;
    lastEnd = Math.max(lastEnd, end);
    return [
      { at: start, element: barreNameElement(barre), isEnd: false },
      { at: start, element: barreLineElement("start", number), isEnd: false },
      { at: end, element: barreLineElement("stop", number), isEnd: true },
    ];
  });
}

/** The name of a barre. In a `<direction>` of its own: some programs lose words that share one with a line. */
const barreNameElement = (barre: Barre): XmlElement =>
  element("direction", { placement: "above" }, [
    element("direction-type", {}, [element("words", {}, [barreText(barre)])]),
  ]);

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

/**
 * The barre marks among the directions of a whole part that was written here before: where that part is
 * the lead sheet, they are made anew. A line is one of ours where it begins with the name of a barre.
 */
export function barreMarksAmong(directions: readonly Timed[]): ReadonlySet<XmlElement> {
  const names = directions.filter(({ element: direction }) => contentsOf(direction).some(isBarreName));
  const named = new Set(names.map(({ at }) => at));
  const marks = new Set(names.map(({ element: direction }) => direction));
  const open = new Set<string>();
  for (const { at, element: direction } of directions) {
    const bracket = contentsOf(direction).find(({ name }) => name === "bracket");
    if (bracket === undefined) continue;
    const number = attributeOf(bracket, "number") ?? "1";
    const type = attributeOf(bracket, "type");
    if (type === "start" && named.has(at)) open.add(number);
    else if (type !== "stop" || !open.delete(number)) continue;
    marks.add(direction);
  }
  return marks;
}

const contentsOf = (direction: XmlElement): readonly XmlElement[] =>
  childrenNamed(direction, "direction-type").flatMap(elementsOf);

const isBarreName = (content: XmlElement): boolean =>
  content.name === "words" && BARRE_WORDS.test(textOf(content).trim());
