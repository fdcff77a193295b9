import { chordIdentity } from "../../harmony/chord-identity.js";
import type { Chord } from "../../harmony/chord-tones.js";
import type { KnownSteps, StepCost } from "../../search/choice-graph.js";
import type { EventLink } from "../../song/playing-links.js";
import { ringingMelody } from "../events/ringing-melody.js";
import type { TuneEvent } from "../events/tune-events.js";
import { areAllSung } from "../grips/candidate.js";
import { melodyStringOf, NO_MELODY } from "../grips/grip-rows.js";
import type { PackedColumn } from "../grips/packed-column.js";
import type { Supports } from "../grips/supports.js";
import { brokenLines } from "./broken-lines.js";
import { byRowAndString } from "./by-row-and-string.js";
import type { CostTable } from "./cost-table.js";
import { liftCost } from "./lift-cost.js";
import { lostToMelody } from "./lost-to-melody.js";
import { type MoveTerms, moveCosts, wayCost } from "./move-cost.js";
import { leastWay, placeClasses } from "./place-classes.js";
import { releaseCostOf } from "./release-cost.js";
import { ringingSources } from "./sustain.js";

/** Seconds too short to rest in. */
const A_MOMENT = 0.01;

/** What a step has to know of the two moments it lies between, the same for every pair of their candidates. */
export interface TransitionTerms extends MoveTerms {
  /** The second event is the next one of the score, not one that playing jumps to. */
  readonly isNext: boolean;
  /** The melody note of the first event sounds on. */
  readonly melodyRingsOn: boolean;
  /** A chord that could ring on is missed where the melody goes on alone. */
  readonly isMissed: boolean;
  /** Points for a barre that goes straight on into another. */
  readonly barreUnrested: number;
  /** What the melody note of the first event is of the chord, where it may ring on under the second. */
  readonly ringingDegree: string | undefined;
  readonly fromChord: Chord | undefined;
  readonly toChord: Chord | undefined;
}

/**
 * @param texture In force where the step arrives.
 * @param mmPerSecond Fastest the hand may travel along the neck.
 */
export function transitionTerms(
  { from, to, seconds }: EventLink,
  fromEvent: TuneEvent,
  toEvent: TuneEvent,
  { texture, mmPerSecond, isMissed }: Pick<TransitionTerms, "texture" | "mmPerSecond" | "isMissed">,
  { move }: CostTable,
): TransitionTerms {
  const isNext = to === from + 1;
  const melodyRingsOn = isNext && toEvent.note !== undefined && !toEvent.isNoteOnset;
  const isSameChord = isNext && !toEvent.isChordChange && toEvent.chord !== undefined;
  const isRepeated =
    // Voices may move under a note that is sung again.
    texture !== "voices" &&
    isSameChord &&
    !melodyRingsOn &&
    fromEvent.note !== undefined &&
    fromEvent.note.midi === toEvent.note?.midi;
  return {
    seconds,
    texture,
    mmPerSecond,
    isRepeated,
    isSameChord,
    isNext,
    melodyRingsOn,
    isMissed,
    barreUnrested:
      fromEvent.seconds < seconds - A_MOMENT ? 0 : Math.round(seconds * move.barreUnrestedEachSecond),
    ringingDegree: isNext ? ringingMelody(fromEvent, toEvent)?.degree : undefined,
    fromChord: fromEvent.chord,
    toChord: toEvent.chord,
  };
}

/** Two with one name have the same steps between the same columns. */
export const nameOfTerms = (terms: TransitionTerms): string =>
  Object.values(terms)
    .map((term) => (typeof term === "object" ? chordIdentity(term) : term))
    .join();

/** The steps over one link: what each costs, and what is known of all of them. */
export interface Steps {
  readonly cost: StepCost;
  readonly known: KnownSteps;
}

/**
 * Points for going from a candidate of one event to a candidate of the event played after it; Infinity where
 * that cannot be: a note that rings on changes its place, or something rings on that did not sound.
 */
export function transitionSteps(
  earlier: PackedColumn,
  later: PackedColumn,
  terms: TransitionTerms,
  costs: CostTable,
): Steps {
  const { isNext, melodyRingsOn, isMissed, barreUnrested } = terms;
  const ringing = releases(earlier, terms.fromChord, costs, () => false);
  const lost = lostToMelody(earlier, later, terms.toChord, costs.voicing);
  // What was the melody's stays beside the chord that rang, and makes up for nothing of it.
  const staying = releases(later, terms.toChord, costs, (row) => later.keepsMelody[row] === 1);
  const sourcesOf = ringingSources(earlier, later, isNext, melodyRingsOn);
  const isSung = earlier.isSung && later.isSung;
  const lift = liftCost(earlier, later, terms.ringingDegree, terms.toChord, costs.voicing);
  const moved = moveCosts(earlier, later, terms, costs.move);
  const cost: KnownSteps["cost"] = (from, to, enough = Number.POSITIVE_INFINITY) => {
    const isLetGo = later.isHeld[to] === 1 || (isNext && isMissed && later.isSingle[to] === 1);
    const taken = isLetGo ? melodyStringOf(later.melody[to] ?? NO_MELODY) : 0;
    const letGo = isLetGo ? Math.max(0, ringing(from, taken) - staying(to, taken)) : 0;
    const lifted = later.isHeld[to] === 1 ? lift(from, to) + lost(from, taken) : 0;
    const tired = earlier.isTiring[from] === 1 && later.isTiring[to] === 1 ? barreUnrested : 0;
    const broken = isSung ? brokenLines(earlier.linesAt(from), later.linesAt(to), costs.sung) : 0;
    const so = letGo + lifted + tired + broken;
    return so + moved(from, to, enough - so);
  };
  return {
    known: {
      cost,
      from: placeClasses(earlier).classes,
      to: placeClasses(later).classes,
      least: leastWay(earlier, later, (mm) => wayCost(mm, terms, costs.move)),
      sourcesOf,
    },
    cost: (from, to) => (sourcesOf(to)?.includes(from) === false ? Number.POSITIVE_INFINITY : cost(from, to)),
  };
}

/**
 * What it costs to let all supporting notes of a candidate go, by the lowest string that the melody takes (0 where it
 * takes none): what lies on that string and above it has to go anyway.
 *
 * @param isHighestFree Whether the highest of a candidate's is not counted.
 */
function releases(
  column: PackedColumn,
  chord: Chord | undefined,
  { voicing }: CostTable,
  isHighestFree: (row: number) => boolean,
): (row: number, taken: number) => number {
  const ofDegree = new Map<string, number>();
  const pointsOf = (degree: string): number => {
    let points = ofDegree.get(degree);
    if (points === undefined) {
      points = releaseCostOf(degree, chord, voicing);
      ofDegree.set(degree, points);
    }
    return points;
  };
  return byRowAndString(column.size, (row, taken) =>
    // Where voices are sung, what is let go was priced by who sings on.
    column.isSung && areAllSung(column.linesAt(row))
      ? 0
      : releaseUnder(column.supportsAt(row), taken, pointsOf, isHighestFree(row)),
  );
}

function releaseUnder(
  { strings, degrees }: Supports,
  taken: number,
  pointsOf: (degree: string) => number,
  isHighestFree: boolean,
): number {
  let points = 0;
  for (let index = 0; index < degrees.length; index += 1) {
    if ((strings[index]?.string ?? 0) <= taken) continue;
    if (!isHighestFree || index < degrees.length - 1) points += pointsOf(degrees[index] ?? "");
  }
  return points;
}
