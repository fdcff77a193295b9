import type { Arrangement } from "../../arrangement/arrangement.js";
import { countBefore, countUntil } from "../../song/in-time-order.js";
import type { Measure } from "../../song/tune.js";
import type { XmlElement } from "../../xml/xml-tree.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";
import { barreMarksAmong, barreMarksOf, barreRuns, positionMarksOf } from "./barre-marks.js";
import { chordSymbols } from "./chord-symbols.js";
import { directionElement } from "./direction-element.js";
import { handPositions } from "./hand-positions.js";
import type { Between } from "./staff-music.js";

export interface Showing {
  readonly hasDiagrams: boolean;
  /** The lead sheet is a guitar part of an earlier run, whose marks are made anew. */
  readonly isLeadOurs: boolean;
  /** No lead sheet stands beside the guitar, which then shows all of it. */
  readonly isAlone: boolean;
}

/**
 * Signs, words, barre marks and chord symbols for the staff that carries them, for each measure: made
 * once for the whole part.
 */
export function shownOnce(
  sheet: LeadSheet,
  arrangement: Arrangement,
  { hasDiagrams, isLeadOurs, isAlone }: Showing,
): readonly (readonly Between[])[] {
  const { measures } = sheet.tune;
  const symbols = chordSymbols(sheet, arrangement, hasDiagrams, isAlone);
  const shown = leadDirections(sheet, isLeadOurs);
  const into = (index: number, mark: Between) => shown[index]?.push(mark);
  const barres = barreRuns(arrangement, sheet.tune);
  const positions = handPositions(arrangement, barres);
  for (const mark of [...barreMarksOf(barres), ...positionMarksOf(positions)]) {
    // What ends at a barline ends in the measure before it.
    const index = (mark.isEnd ? countBefore : countUntil)(measures, mark.at, startOf) - 1;
    const measure = measures[index];
    if (measure !== undefined && mark.at <= endOf(measure)) into(index, mark);
  }
  for (const symbol of symbols) into(countUntil(measures, symbol.at, startOf) - 1, symbol);
  return shown;
}

/** Directions of the lead sheet for the guitar. */
function leadDirections({ source }: LeadSheet, isLeadOurs: boolean): readonly Between[][] {
  const oldMarks = isLeadOurs
    ? barreMarksAmong(source.measures.flatMap(({ directions }) => directions))
    : NONE;
  return source.measures.map(({ directions }) =>
    directions
      .filter((one) => !oldMarks.has(one.element))
      .flatMap(({ at, element: direction }): Between[] => {
        const copy = directionElement(direction);
        return copy === undefined ? [] : [{ at, element: copy }];
      }),
  );
}

const NONE: ReadonlySet<XmlElement> = new Set();

const startOf = ({ start }: Measure): number => start;
const endOf = ({ start, length }: Measure): number => start + length;
