import { melodyDegree } from "../../harmony/melody-degree.js";
import type { Restrike, TextureName } from "../../options/options.js";
import type { CostTable } from "../costs/cost-table.js";
import type { TuneEvent } from "../events/tune-events.js";

/** What a texture makes of each way to play an event, in points; undefined where it does not allow it. */
export interface Texture {
  readonly singleCost: (event: TuneEvent) => number;
  readonly struckCost: (event: TuneEvent) => number | undefined;
  readonly heldCost: (event: TuneEvent) => number | undefined;
  /** Each note that a chord ringing on has fewer than it asks for. */
  readonly noteShortCost: (event: TuneEvent) => number;
  /** Whether a chord is missed where it could ring on and the melody goes on alone. */
  readonly isMissed: (event: TuneEvent) => boolean;
}

/**
 * Full gives every note its chord, fluent what the hand can do in time, lean changes and strong beats only. In
 * voices nothing sounds but what voices sing: what that is worth is in the grips, not here.
 */
export function textureNamed(name: TextureName, costs: CostTable, restrike: Restrike): Texture {
  switch (name) {
    case "full":
      return full(costs);
    case "fluent":
      return fluent(costs, restrike);
    case "lean":
      return lean(costs);
    case "voices":
      return {
        singleCost: () => 0,
        struckCost: () => 0,
        heldCost: () => 0,
        noteShortCost: () => 0,
        isMissed: () => false,
      };
  }
}

/** A texture in which a chord that was asked for is struck even where it would not be by itself. */
export const withChordAsked = (texture: Texture, costs: CostTable): Texture => ({
  ...texture,
  struckCost: (event) => texture.struckCost(event) ?? haste(event, costs),
});

function full(costs: CostTable): Texture {
  const weights = costs.texture;
  return {
    singleCost: (event) => {
      if (event.chord === undefined) return 0;
      if (isQuick(event, costs)) return weights.bareQuickFull;
      if (isAnticipating(event, costs)) return weights.bareAnticipation;
      return isAtOnce(event, costs) ? bareCost(event, costs) : weights.bareFull;
    },
    struckCost: (event) => {
      if (isQuick(event, costs)) return undefined;
      return isAtOnce(event, costs) ? haste(event, costs) : 0;
    },
    heldCost: (event) => (isQuick(event, costs) || isAtOnce(event, costs) ? 0 : undefined),
    noteShortCost: () => 0,
    isMissed: () => true,
  };
}

function fluent(costs: CostTable, restrike: Restrike): Texture {
  const weights = costs.texture;
  const struckAgain = (event: TuneEvent) =>
    (event.isChordChange || isStrikeDue(event, restrike) ? 0 : (weights.struckAgain[event.weight] ?? 0)) +
    (isAgainstSeventh(event) ? weights.struckAgainstSeventh : 0);
  const waitedFor = (event: TuneEvent) => (isStrikeDue(event, restrike) ? weights.heldWhereStrikeIsDue : 0);
  return {
    singleCost: (event) => bareCost(event, costs),
    struckCost: (event) => (isQuick(event, costs) ? undefined : haste(event, costs) + struckAgain(event)),
    heldCost: (event) =>
      event.isChordChange
        ? undefined
        : (weights.heldFluent[event.weight] ?? 0) +
          Math.round(event.seconds * weights.heldEachSecond) +
          waitedFor(event),
    noteShortCost: (event) =>
      event.seconds > weights.hasteSeconds ? (weights.noteShortFluent[event.weight] ?? 0) : 0,
    isMissed: () => true,
  };
}

function lean(costs: CostTable): Texture {
  return {
    singleCost: (event) => (isDueInLean(event) ? bareCost(event, costs) : 0),
    struckCost: (event) => (isDueInLean(event) ? haste(event, costs) : undefined),
    heldCost: (event) => (event.isChordChange ? undefined : isDueInLean(event) ? costs.texture.heldLean : 0),
    noteShortCost: () => 0,
    isMissed: isDueInLean,
  };
}

/** The downbeat, and the middle beat of a bar that has one. */
const STRONG_BEAT = 2;

/** The first beat of a bar. */
const DOWNBEAT = 3;

/** Whether a chord that has not changed is due to be struck again. */
const isStrikeDue = (event: TuneEvent, restrike: Restrike): boolean =>
  restrike !== "change" && event.weight >= (restrike === "bar" ? DOWNBEAT : STRONG_BEAT);

/** Whether the lean texture owes an event its harmony: at chord changes and on strong beats. */
export const isDueInLean = (event: TuneEvent): boolean => event.isChordChange || event.weight >= STRONG_BEAT;

/** A note left alone under a chord: the longer and the stronger, the more it is missed; most at a chord change. */
function bareCost(event: TuneEvent, costs: CostTable): number {
  const weights = costs.texture;
  if (event.chord === undefined) return 0;
  if (event.isChordChange)
    return isAnticipating(event, costs) ? weights.bareAnticipation : weights.bareChordChange;
  return (weights.bareFluent[event.weight] ?? 0) + Math.round(event.seconds * weights.bareEachSecond);
}

/** A chord that changes on a note off the beat that is over at once: it comes in with the next one. */
const isAnticipating = ({ isChordChange, weight, seconds }: TuneEvent, { texture }: CostTable): boolean =>
  isChordChange && weight === 0 && seconds <= texture.atOnceSeconds;

/** The melody has a major seventh where the chord has a minor one. */
function isAgainstSeventh({ chord, note }: TuneEvent): boolean {
  const seventh = chord?.tones.find((tone) => tone.label === "b7");
  return seventh !== undefined && note !== undefined && (note.midi + 11) % 12 === seventh.pitchClass;
}

/** A chord struck with no time to let it sound, or hardly any to reach it. */
function haste(event: TuneEvent, costs: CostTable): number {
  const { hasteSeconds, struckInHasteEachTenth } = costs.texture;
  const seconds = isAtOnce(event, costs) ? event.secondsSince : event.seconds;
  return Math.round(Math.max(0, hasteSeconds - seconds) * 10 * struckInHasteEachTenth);
}

/** A note off the beat that stays, right after a short one: what was struck with that had better ring on. */
const isAtOnce = (event: TuneEvent, { texture }: CostTable): boolean =>
  event.isNoteOnset &&
  !event.isChordChange &&
  event.weight === 0 &&
  event.secondsSince <= texture.atOnceSeconds &&
  event.seconds > texture.quickSeconds;

/**
 * A note off the beat that moves on soon has no time for a chord of its own, whatever it is over the chord that is
 * there: it is alone, or over what rings on. Nor has one on the beat that leads by a semitone into its chord.
 */
export function isQuick(event: TuneEvent, { texture }: CostTable): boolean {
  if (event.isChordChange || !event.isNoteOnset) return false;
  if (event.weight > 0 && !event.isLeading) return false;
  return event.seconds <= texture.quickSeconds;
}

/** Such a note that is no tone of its chord. */
export function isPassing(event: TuneEvent, costs: CostTable): boolean {
  if (event.chord === undefined || event.note === undefined || !isQuick(event, costs)) return false;
  return melodyDegree(event.chord, event.note.midi % 12).tone === undefined;
}
