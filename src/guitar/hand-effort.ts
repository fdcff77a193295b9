import type { SoundingString } from "./fingering.js";
import type { Finger } from "./grip.js";
import {
  type FingerPair,
  FRETS_IN_POSITION,
  fingerPair,
  fretDistanceMm,
  fretPlacesMm,
  handSizeOf,
  strainMm,
} from "./hand-reach.js";
import type { Instrument } from "./instrument.js";

/** Weights of what makes a grip hard to hold; the table with its reasons is `arranging/cost-table.ts`. */
export interface HandWeights {
  /** A finger put down, by its number; the first entry is the open string's. */
  readonly finger: readonly number[];
  /** A pair of fingers further apart than one finger a fret, each mm. */
  readonly stretchEachMm: Readonly<Record<FingerPair, number>>;
  /** A pair of fingers nearer than one finger a fret, each mm. */
  readonly squeezeEachMm: number;
  /** A pair of fingers beyond its relaxed span, each mm. */
  readonly strainEachMm: number;
  /** Two fingers at one fret, the higher one on the lower-pitched string. */
  readonly fingersCrossed: number;
  /** Two fingers at one fret with an idle one between them and no string for it. */
  readonly fingerSkipped: number;
  /** The little finger on a lower-pitched string than the finger next to it. */
  readonly littleFingerOnLowerString: number;
  readonly indexBarre: number;
  /** The third string of an index barre, and the fourth; wider is no harder. */
  readonly indexBarreEachString: number;
  readonly otherBarre: number;
  readonly otherBarreEachString: number;
  /** A barre whose tip must leave a higher open string to sound. */
  readonly barreBelowOpenString: number;
  /** An index barre of two notes round one at the next fret: no room for a finger to arch over the index. */
  readonly barreRoundNextFret: number;
  /** Another finger at the fret of a barre. */
  readonly fingerBesideBarre: number;
  readonly barreNearNut: number;
  /** The index finger would have to lie behind the nut, each fret. */
  readonly behindNutEachFret: number;
  /** Open strings sound and the hand is out of first position, each fret up to four. */
  readonly openOutOfFirstPositionEachFret: number;
  /** Frets narrower than the first one of the neck, each mm. */
  readonly crampedEachMm: number;
  readonly pastBodyEachFret: number;
  /** The whole grip wider than a hand lies at ease, each mm. */
  readonly spanEachMm: number;
  /** The whole grip wider than four frets at the nut, each mm on top of that. */
  readonly wideSpanEachMm: number;
  /** A fret that the whole grip spans beyond the four of a position; two such are four times as hard. */
  readonly spanEachFret: number;
}

/** What one finger does: at a fret, across the strings `from` (highest number) to `to`, `notes` of them sounding. */
interface FingerUse {
  readonly finger: number;
  readonly fret: number;
  from: number;
  to: number;
  notes: number;
}

/** Median and about 92nd percentile of the width of 3,228 fingered shapes of chords-db, mm. */
const AT_EASE_MM = 55;
const WIDE_MM = 92;

/** Frets out of first position that still matter to open strings. */
const FAR_FROM_FIRST_POSITION = 4;

/**
 * The effort of holding a grip, in points, rounded to a whole number. `fingers` goes with `strings`. The
 * hand at ease lays one finger a fret; what departs from that, along the neck or across it, costs.
 */
export function holdingEffort(
  instrument: Instrument,
  strings: readonly SoundingString[],
  fingers: readonly Finger[],
  weights: HandWeights,
): number {
  const uses = usesOf(strings, fingers);
  return Math.round(
    fingersCost(uses, weights) +
      alongTheNeckCost(instrument, uses, weights) +
      acrossTheStringsCost(uses, weights) +
      barresCost(instrument, strings, uses, weights) +
      positionCost(instrument, strings, uses, weights) +
      spanCost(instrument, uses, weights),
  );
}

/** The fingers in use, index first. */
function usesOf(strings: readonly SoundingString[], fingers: readonly Finger[]): readonly FingerUse[] {
  const uses: FingerUse[] = [];
  for (let finger = 1; finger <= 4; finger += 1) {
    let use: FingerUse | undefined;
    for (let index = 0; index < strings.length; index += 1) {
      const note = strings[index];
      if (note === undefined || fingers[index] !== finger) continue;
      const { string, fret } = note;
      if (use === undefined) {
        use = { finger, fret, from: string, to: string, notes: 1 };
        uses.push(use);
      } else {
        use.from = Math.max(use.from, string);
        use.to = Math.min(use.to, string);
        use.notes += 1;
      }
    }
  }
  return uses;
}

function fingersCost(uses: readonly FingerUse[], weights: HandWeights): number {
  let points = 0;
  for (const use of uses) points += weights.finger[use.finger] ?? 0;
  return points;
}

/** Every pair of fingers against one finger a fret, in mm of this place on the neck. */
function alongTheNeckCost(instrument: Instrument, uses: readonly FingerUse[], weights: HandWeights): number {
  const places = fretPlacesMm(instrument);
  const handSize = handSizeOf(instrument);
  let points = 0;
  for (let i = 0; i < uses.length; i += 1) {
    for (let j = i + 1; j < uses.length; j += 1) {
      const lower = uses[i];
      const higher = uses[j];
      if (lower === undefined || higher === undefined) continue;
      const pair = fingerPair(lower.finger, higher.finger);
      const here = places[lower.fret] ?? 0;
      const apart = (places[higher.fret] ?? 0) - here;
      const beyond = apart - ((places[lower.fret + higher.finger - lower.finger] ?? 0) - here);
      points += beyond > 0 ? beyond * weights.stretchEachMm[pair] : -beyond * weights.squeezeEachMm;
      points += strainMm(pair, apart, handSize) * weights.strainEachMm;
    }
  }
  return points;
}

/** How the fingers lie across the strings: the hand leans so that a higher finger finds a higher string. */
function acrossTheStringsCost(uses: readonly FingerUse[], weights: HandWeights): number {
  let points = 0;
  for (let i = 0; i < uses.length; i += 1) {
    for (let j = i + 1; j < uses.length; j += 1) {
      const lower = uses[i];
      const higher = uses[j];
      if (lower === undefined || higher === undefined) continue;
      const areNeighbours = j === i + 1;
      if (lower.fret === higher.fret) {
        if (higher.from > lower.to) points += weights.fingersCrossed;
        const idleFingers = higher.finger - lower.finger - stringsBetween(lower, higher);
        if (areNeighbours && idleFingers > 0) points += idleFingers * weights.fingerSkipped;
      } else if (areNeighbours && higher.finger === 4 && higher.from > lower.from) {
        points += weights.littleFingerOnLowerString;
      }
    }
  }
  return points;
}

/** Strings from one finger to the other, 1 for neighbours. */
const stringsBetween = (one: FingerUse, other: FingerUse): number =>
  Math.max(1, one.to - other.from, other.to - one.from);

function barresCost(
  instrument: Instrument,
  strings: readonly SoundingString[],
  uses: readonly FingerUse[],
  weights: HandWeights,
): number {
  let points = 0;
  for (const barre of uses) {
    if (barre.notes < 2) continue;
    const more = barre.from - barre.to - 1;
    points +=
      barre.finger === 1
        ? weights.indexBarre + Math.min(2, more) * weights.indexBarreEachString
        : weights.otherBarre + more * weights.otherBarreEachString;
    if (barre.fret + instrument.capo <= 2) points += weights.barreNearNut;
    if (strings.some((note) => note.fret === 0 && note.string < barre.to))
      points += weights.barreBelowOpenString;
    if (barre.finger === 1 && barre.notes === 2 && isRoundNextFret(barre, strings))
      points += weights.barreRoundNextFret;
    for (const other of uses) {
      if (other !== barre && other.fret === barre.fret) points += weights.fingerBesideBarre;
    }
  }
  return points;
}

const isRoundNextFret = (barre: FingerUse, strings: readonly SoundingString[]): boolean =>
  barre.from - barre.to === 2 &&
  strings.some((note) => note.string === barre.to + 1 && note.fret === barre.fret + 1);

/** How far the outer fingers are apart, whichever they are: it decides between grips, never between fingers. */
function spanCost(instrument: Instrument, uses: readonly FingerUse[], weights: HandWeights): number {
  const lowest = uses[0]?.fret ?? 0;
  const frets = (uses.at(-1)?.fret ?? lowest) - lowest + 1;
  const span = fretDistanceMm(instrument, lowest, uses.at(-1)?.fret ?? lowest) / handSizeOf(instrument);
  return (
    Math.max(0, span - AT_EASE_MM) * weights.spanEachMm +
    Math.max(0, span - WIDE_MM) * weights.wideSpanEachMm +
    Math.max(0, frets - FRETS_IN_POSITION) ** 2 * weights.spanEachFret
  );
}

/** What the place on the neck adds. With frets of equal width only the nut and the body are places. */
function positionCost(
  instrument: Instrument,
  strings: readonly SoundingString[],
  uses: readonly FingerUse[],
  weights: HandWeights,
): number {
  const [lowest] = uses;
  const highest = uses.at(-1);
  if (lowest === undefined || highest === undefined) return 0;
  const index = lowest.fret - (lowest.finger - 1);
  let points = Math.max(0, 1 - index) * weights.behindNutEachFret;
  if (strings.some((note) => note.fret === 0)) {
    points += Math.min(FAR_FROM_FIRST_POSITION, Math.abs(index - 1)) * weights.openOutOfFirstPositionEachFret;
  }
  points += narrowingMm(instrument, lowest.fret) * weights.crampedEachMm;
  points += Math.max(0, highest.fret + instrument.capo - instrument.bodyFret) * weights.pastBodyEachFret;
  return points;
}

/** How much narrower the space of a fret is than that of the neck's first fret, mm. */
function narrowingMm(instrument: Instrument, fret: number): number {
  if (instrument.fretSpacing === "equal") return 0;
  const places = fretPlacesMm(instrument);
  const first = instrument.scaleLengthMm * (1 - 2 ** (-1 / 12));
  return first - ((places[fret] ?? 0) - (places[fret - 1] ?? 0));
}
