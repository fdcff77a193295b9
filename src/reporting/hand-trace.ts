import type { Arrangement } from "../arrangement/arrangement.js";
import { isBeyond, movesOf, placementsAt } from "../arrangement/hand-moves.js";
import { fretPositionMm, type Instrument } from "../guitar/instrument.js";
import type { LeadSheet } from "../musicxml/lead-sheet/lead-sheet.js";
import type { ArrangeOptions } from "../options/options.js";
import { rounded } from "./rounded.js";

/** Where the hand is from one moment to the next, as a picture of it is drawn. Lengths in mm from the nut. */
export interface HandTrace {
  readonly neck: NeckMap;
  /** In quarter notes from the start of the score, in written order. */
  readonly measures: readonly { readonly start: number; readonly length: number; readonly label: string }[];
  /** One for each moment of the report, in its order. */
  readonly moments: readonly TracedMoment[];
  readonly moves: readonly TracedMove[];
}

/** A neck as it is drawn: places of the nut or capo and of every fret that a grip may use. */
export interface NeckMap {
  readonly strings: number;
  /** The capo's place, 0 without one; frets count from it. */
  readonly nutMm: number;
  /** Fret 1 first. */
  readonly fretsMm: readonly number[];
  readonly bodyMm: number;
  readonly capo: number;
}

export interface TracedMoment {
  /** Quarter notes from the start of the score. */
  readonly at: number;
  readonly handMm: number;
  /** From the lowest to the highest fret that is stopped; absent over open strings alone. */
  readonly spanMm?: readonly [low: number, high: number];
}

/** The hand on its way; indexes of moments. Across repeats and endings too. */
export interface TracedMove {
  readonly from: number;
  readonly to: number;
  readonly moveMm: number;
  readonly secondsAvailable: number;
  readonly effort: MoveEffort;
}

/**
 * How a move is drawn, by its speed against the fastest that the hand is said to travel (`shift`):
 * still under half a millimetre, then up to a fifth of that speed, up to three fifths, up to it, and beyond.
 */
export type MoveEffort = "still" | "easy" | "brisk" | "hard" | "beyond";

const EASY_UP_TO = 1 / 5;
const BRISK_UP_TO = 3 / 5;
const STILL_MM = 0.5;

/** The way of the hand through an arrangement of a tune. */
export function handTrace(
  { tune }: LeadSheet,
  arrangement: Arrangement,
  { tempo, shift }: Pick<ArrangeOptions, "tempo" | "shift">,
): HandTrace {
  const { instrument, events } = arrangement;
  const quarters = (ticks: number) => ticks / tune.ticksPerQuarter;
  return {
    neck: neckMap(instrument),
    measures: tune.measures.map(({ start, length, label }) => ({
      start: quarters(start),
      length: quarters(length),
      label,
    })),
    moments: events.map((event) => {
      const places = placementsAt(arrangement, event)
        .filter(({ fret }) => fret > 0)
        .map(({ fret }) => fretPositionMm(instrument, fret));
      return {
        at: quarters(event.onset),
        handMm: rounded(event.handMm),
        ...(places.length === 0
          ? {}
          : { spanMm: [rounded(Math.min(...places)), rounded(Math.max(...places))] as const }),
      };
    }),
    moves: movesOf(tune, arrangement, tempo).map((move) => {
      const speed = move.moveMm / (shift * move.secondsAvailable);
      return {
        from: move.from,
        to: move.to,
        moveMm: rounded(move.moveMm),
        secondsAvailable: rounded(move.secondsAvailable),
        effort: isBeyond(move, shift)
          ? "beyond"
          : move.moveMm < STILL_MM
            ? "still"
            : speed <= EASY_UP_TO
              ? "easy"
              : speed <= BRISK_UP_TO
                ? "brisk"
                : "hard",
      };
    }),
  };
}

/** The neck of an instrument as it is drawn. */
export const neckMap = (instrument: Instrument): NeckMap => ({
  strings: instrument.openStrings.length,
  nutMm: rounded(fretPositionMm(instrument, 0)),
  fretsMm: Array.from({ length: instrument.frets }, (_, index) =>
    rounded(fretPositionMm(instrument, index + 1)),
  ),
  bodyMm: rounded(fretPositionMm({ ...instrument, capo: 0 }, instrument.bodyFret)),
  capo: instrument.capo,
});
