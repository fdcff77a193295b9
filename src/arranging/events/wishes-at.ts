import { ScoreError } from "../../diagnostics.js";
import type { TextureName } from "../../options/options.js";
import { measurePlace } from "../../song/measure-place.js";
import type { Tune } from "../../song/tune.js";
import type { AvoidWish, TextureWish, Wish } from "../../wishes/wishes.js";
import type { TuneEvent } from "./tune-events.js";

/** Whether a wish is for a tick, or for a stretch of time that it lies in. */
export const isWishAt = (wish: Wish, tick: number): boolean =>
  wish.kind === "grip" || wish.kind === "play" ? wish.at === tick : wish.from <= tick && tick < wish.to;

/** Whether a wish rules something out at a tick. */
export const isAvoidedAt = (wish: Wish, tick: number): wish is AvoidWish =>
  wish.kind === "avoid" && isWishAt(wish, tick);

/** What is asked for of textures: for the whole tune, and by wishes for parts of it. */
export interface TexturesAsked {
  readonly texture: TextureName;
  readonly wishes: readonly Wish[];
}

/** The texture in force at an event: the last wish that covers it, or the one for the whole tune. */
export function textureNameAt(
  { onset }: Pick<TuneEvent, "onset">,
  { wishes, texture }: TexturesAsked,
): TextureName {
  const covers = (wish: Wish): wish is TextureWish => wish.kind === "texture" && isWishAt(wish, onset);
  return wishes.findLast(covers)?.texture ?? texture;
}

/** Whether a chord is asked for at an event. */
export const isChordAskedAt = ({ onset }: TuneEvent, wishes: readonly Wish[]): boolean =>
  wishes.some((wish) => wish.kind === "play" && wish.as === "chord" && isWishAt(wish, onset));

/** Moments that the player adds to those of the tune. */
export const ownMoments = (wishes: readonly Wish[]): readonly number[] =>
  wishes.flatMap((wish) => (wish.kind === "grip" && wish.isOwnMoment ? [wish.at] : []));

/**
 * A wish for a moment at which nothing is struck is an error, not a wish overlooked.
 *
 * @throws ScoreError naming the first such wish and the nearest moment
 */
export function refuseWishesForNothing(
  events: readonly TuneEvent[],
  wishes: readonly Wish[],
  tune: Tune,
): void {
  for (const wish of wishes) {
    if (wish.kind !== "grip" && wish.kind !== "play") continue;
    if (events.some((event) => event.onset === wish.at)) continue;
    const nearest = events.toSorted((a, b) => Math.abs(a.onset - wish.at) - Math.abs(b.onset - wish.at))[0];
    const place = nearest && measurePlace(tune, nearest.onset);
    const there = place === undefined ? "nothing" : `measure ${place.measure}, beat ${place.beat}`;
    throw new ScoreError({
      rule: "wish-for-nothing",
      place: measurePlace(tune, wish.at) ?? {},
      found: "a moment at which no melody note and no chord change begins",
      expected: there,
      message: `${wish.wording} is for a moment at which nothing begins; the nearest is ${there}.`,
    });
  }
}
