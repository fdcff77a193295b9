import { type Place, ScoreError } from "../diagnostics.js";
import { quartersPerBeat, roundedBeat } from "../song/beats.js";
import { measurePlace } from "../song/measure-place.js";
import type { Measure, Tune } from "../song/tune.js";
import { placeOfWish } from "./place-of-wish.js";
import type { Wish } from "./wishes.js";
import type { WishesFile, WrittenMelody, WrittenWish } from "./wishes-file.js";

/** Reports round beats to a thousandth; a beat copied from one still means the moment it was made from. */
const ROUNDING_BEATS = 0.005;

/**
 * The one door where measures and beats become ticks of the tune. Wishes for a grip come first, so that
 * another wish for the same moment is held against the grip and not overlooked. Wishes that say where the tune is
 * were granted when it was read.
 *
 * @throws ScoreError for a measure or a beat that the tune does not have, and for two grips at one moment
 */
export function wishesInTicks(tune: Tune, file: WishesFile): readonly Wish[] {
  const wishes = file.wishes.flatMap((wish, index) =>
    "melody" in wish ? [] : [wishInTicks(tune, wish, `Wish ${index + 1}`)],
  );
  const grips = wishes.filter((wish) => wish.kind === "grip");
  grips.forEach((grip, index) => {
    const other = grips.slice(0, index).find(({ at }) => at === grip.at);
    if (other !== undefined) throw twoGrips(other, grip, measurePlace(tune, grip.at) ?? {});
  });
  return [...grips, ...wishes.filter((wish) => wish.kind !== "grip")];
}

function wishInTicks(tune: Tune, wish: Exclude<WrittenWish, WrittenMelody>, name: string): Wish {
  if ("measures" in wish) {
    const [first, last = first] = wish.measures;
    const wording = `${name} (${first === last ? `measure ${first}` : `measures ${first} to ${last}`})`;
    const asked = { wording, place: placeIn(tune, wish) };
    const from = measureAt(tune, first, asked);
    const until = measureAt(tune, last, asked);
    if (last < first)
      throw refused(
        asked,
        `measures ${first} to ${last}`,
        `measures ${last} to ${first}`,
        "Its last measure stands before its first",
      );
    const range = { wording, from: from.start, to: until.start + until.length };
    if ("texture" in wish) return { kind: "texture", ...range, texture: wish.texture };
    const { fingers = [], strings = [], frets } = wish.avoid;
    return {
      kind: "avoid",
      ...range,
      fingers,
      strings,
      frets: frets === undefined ? undefined : [Math.min(...frets), Math.max(...frets)],
    };
  }
  const wording = `${name} (measure ${wish.measure}, beat ${wish.beat})`;
  const at = tickAt(tune, wish.measure, wish.beat, { wording, place: placeIn(tune, wish) });
  if ("play" in wish) return { kind: "play", wording, at, as: wish.play };
  const strings = wish.grip.map(({ held = false, ...place }) => ({ ...place, isHeld: held }));
  return { kind: "grip", wording, at, strings };
}

/** A wish as its messages put it. */
interface Asked {
  readonly wording: string;
  readonly place: Place;
}

/** Where a wish is for, as it is written: the tune need not have that measure or beat. */
function placeIn(tune: Tune, wish: WrittenWish): Place {
  const place = placeOfWish(wish);
  const measure = tune.measures[(place.measure ?? 0) - 1];
  const known = measure && measurePlace(tune, measure.start, measure.index);
  return { ...known, ...place };
}

function measureAt(tune: Tune, position: number, asked: Asked): Measure {
  const measure = tune.measures[position - 1];
  if (measure !== undefined) return measure;
  const count = tune.measures.length;
  throw refused(
    asked,
    `measure ${position}`,
    `a measure from 1 to ${count}`,
    `The tune has ${count} measures, and the nearest is measure ${count}`,
  );
}

function tickAt(tune: Tune, position: number, beat: number, asked: Asked): number {
  const measure = measureAt(tune, position, asked);
  const ticksPerBeat = tune.ticksPerQuarter * quartersPerBeat(measure.meter);
  const exact = measure.start + (beat - 1) * ticksPerBeat;
  const moments = [...tune.melody.map(({ onset }) => onset), ...tune.chords.map(({ start }) => start)];
  const isNear = (tick: number) => Math.abs(tick - exact) <= ROUNDING_BEATS * ticksPerBeat;
  const meant = moments
    .filter(isNear)
    .sort((one, other) => Math.abs(one - exact) - Math.abs(other - exact))[0];
  // A beat between the ticks begins nothing, and is left there: rounded, it could mean another moment.
  const tick = meant ?? exact;
  if (tick < measure.start + measure.length) return tick;
  const beats = `beats from 1 to below ${roundedBeat(1 + measure.length / ticksPerBeat)}`;
  const last = moments.filter((moment) => moment >= measure.start && moment < measure.start + measure.length);
  const nearest = roundedBeat(1 + (Math.max(measure.start, ...last) - measure.start) / ticksPerBeat);
  throw refused(
    asked,
    `beat ${beat}`,
    beats,
    `Measure ${position} has ${beats}, and the nearest moment in it is beat ${nearest}`,
  );
}

const refused = ({ wording, place }: Asked, found: string, expected: string, why: string): ScoreError =>
  new ScoreError({
    rule: "wish-for-nothing",
    place,
    found,
    expected,
    message: `${wording} cannot be granted. ${why}.`,
  });

const twoGrips = (one: Wish, other: Wish, place: Place): ScoreError =>
  new ScoreError({
    rule: "wishes-contradict",
    place,
    found: "two grips for one moment",
    expected: "one grip a moment",
    message: `${other.wording} and ${one.wording} ask for two grips at one moment; keep one of them.`,
  });
