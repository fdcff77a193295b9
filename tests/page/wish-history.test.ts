import { expect, test } from "vitest";
import {
  avoiding,
  choosing,
  freeingMeasure,
  keepingMeasure,
  NOTHING_WISHED,
  playing,
  redone,
  undone,
  wishing,
} from "../../server/page/choose/wish-history.js";
import { readWishes } from "../../src/wishes/read-wishes.js";

const notes = [
  { string: 4, fret: 5, finger: 1 },
  { string: 2, fret: 5, finger: 1 },
] as const;
const event = {
  measure: 2,
  beat: 3,
  melody: "E4",
  attack: "struck",
  degrees: [],
  notes,
  barres: [],
  leftOut: [],
  alternatives: [],
} as const;

test("a step taken back and taken again is where it was", () => {
  const one = wishing(NOTHING_WISHED, playing([], event, "single"));
  const two = wishing(one, choosing(one.now, event, event));
  const back = undone(two);
  expect(back?.now).toEqual(one.now);
  expect(back && redone(back)?.now).toEqual(two.now);
  expect(undone(NOTHING_WISHED)).toBeUndefined();
  expect(redone(two)).toBeUndefined();
});

test("a moment has one wish at a time, and the later one counts", () => {
  const wishes = choosing(playing([], event, "single"), event, event);
  expect(wishes).toEqual([{ measure: 2, beat: 3, grip: notes }]);
});

test("what rings on is wished as ringing on, the melody above it as struck", () => {
  const [wish] = choosing([], event, { attack: "held", notes });
  expect(wish).toMatchObject({ grip: [{ string: 4, held: true }, { string: 2 }] });
  expect(wish && "grip" in wish && wish.grip[1]).not.toHaveProperty("held");
});

test("a measure that is kept keeps each of its moments and no other's", () => {
  const others = [event, { ...event, beat: 4 }, { ...event, measure: 3 }];
  expect(keepingMeasure([], others, 2)).toHaveLength(2);
  expect(freeingMeasure(keepingMeasure([], others, 2), 2)).toEqual([]);
});

test("a finger that is never wanted takes the grips with it that use it", () => {
  const wishes = avoiding(choosing([], event, event), 2, { finger: 1 });
  expect(wishes).toEqual([{ measures: [2], avoid: { fingers: [1] } }]);
});

test("every wish the page makes is one that the command line reads", () => {
  const wishes = avoiding(playing(choosing([], event, event), { measure: 4, beat: 1 }, "chord"), 5, {
    string: 6,
  });
  expect(readWishes(JSON.stringify({ wishes }))).toEqual({ wishes });
});
