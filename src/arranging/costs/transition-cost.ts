import type { TextureName } from "../../options/options.js";
import type { StepCost } from "../../search/choice-graph.js";
import type { EventLink } from "../../song/playing-links.js";
import { type Candidate, supportsName } from "../candidate.js";
import type { TuneEvent } from "../tune-events.js";
import { brokenLines } from "./broken-lines.js";
import type { CostTable } from "./cost-table.js";
import { isTiring, moveCost } from "./move-cost.js";
import { releaseCost } from "./release-cost.js";
import { keepsMelody, ringsFromBefore, ringsOn } from "./sustain.js";

/** Seconds too short to rest in. */
const A_MOMENT = 0.01;

/** What a step between two events has to know of them, the same for every pair of their candidates. */
export interface Transition {
  readonly link: EventLink;
  readonly from: TuneEvent;
  readonly to: TuneEvent;
  readonly earlier: readonly Candidate[];
  readonly later: readonly Candidate[];
  /** In force where the step arrives. */
  readonly texture: TextureName;
  /** Fastest the hand may travel, mm a second along the neck. */
  readonly mmPerSecond: number;
  /** A chord that could ring on is missed where the melody goes on alone. */
  readonly isMissed: boolean;
}

/**
 * Points for going from a candidate of one event to a candidate of the event played after it; Infinity where
 * that cannot be: a note that rings on changes its place, or something rings on that did not sound.
 */
export function transitionCost(
  { link, from: fromEvent, to: toEvent, earlier, later, texture, mmPerSecond, isMissed }: Transition,
  costs: CostTable,
): StepCost {
  const { seconds } = link;
  const isNext = link.to === link.from + 1;
  const melodyRingsOn = isNext && toEvent.note !== undefined && !toEvent.isNoteOnset;
  const isRepeated =
    // Voices may move under a note that is sung again.
    texture !== "voices" &&
    isNext &&
    !melodyRingsOn &&
    !toEvent.isChordChange &&
    toEvent.chord !== undefined &&
    fromEvent.note !== undefined &&
    fromEvent.note.midi === toEvent.note?.midi;
  const terms = { seconds, texture, mmPerSecond, isRepeated };
  const barreUnrested =
    fromEvent.seconds < seconds - A_MOMENT ? 0 : Math.round(seconds * costs.move.barreUnrestedEachSecond);
  const worth = (one: Candidate, { chord }: TuneEvent) =>
    // Where voices are sung, what is let go was priced by who sings on.
    one.lines === undefined ? releaseCost(one.degrees, chord, costs.voicing) : 0;
  const ringing = earlier.map((one) => worth(one, fromEvent));
  const staying = later.map((one) => worth(one, toEvent));
  const names = earlier.map(supportsName);
  const tiresBefore = earlier.map(isTiring);
  const tiresAfter = later.map(isTiring);
  return (fromChoice, toChoice) => {
    const from = earlier[fromChoice];
    const to = later[toChoice];
    if (from === undefined || to === undefined) return Number.POSITIVE_INFINITY;
    if (melodyRingsOn && !keepsMelody(from, to)) return Number.POSITIVE_INFINITY;
    if (ringsFromBefore(to) && !(isNext && ringsOn(from, names[fromChoice] ?? "", to)))
      return Number.POSITIVE_INFINITY;
    const isLetGo = to.attack === "held" || (to.attack === "single" && isNext && isMissed);
    const letGo = isLetGo ? Math.max(0, (ringing[fromChoice] ?? 0) - (staying[toChoice] ?? 0)) : 0;
    const tired = tiresBefore[fromChoice] && tiresAfter[toChoice] ? barreUnrested : 0;
    return letGo + tired + brokenLines(from, to, costs.sung) + moveCost(from, to, terms, costs.move);
  };
}
