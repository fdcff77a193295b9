import { expect, test } from "vitest";
import { COSTS, type MoveWeights } from "../../src/arranging/costs/cost-table.js";
import { type MoveTerms, moveCosts } from "../../src/arranging/costs/move-cost.js";
import { packedColumn } from "../../src/arranging/grips/packed-column.js";
import { candidateFrom } from "../support/candidate-from.js";

/** A struck grip from its diagram; only its melody note is no support. `lowest` is the degree of its lowest note. */
const struck = (diagram: string, lowest = "") =>
  candidateFrom(diagram, "struck", (index) => (index === 0 ? lowest : ""));

const TERMS: MoveTerms = {
  seconds: 0.6,
  texture: "full",
  mmPerSecond: 1000,
  isRepeated: false,
  isSameChord: false,
};

const costOf = (
  from: string,
  to: string,
  terms: Partial<MoveTerms> = {},
  weights: MoveWeights = COSTS.move,
): number =>
  moveCosts(packedColumn([struck(from)]), packedColumn([struck(to)]), { ...TERMS, ...terms }, weights)(0, 0);

/** What is left of a move when all but some of its prices are nothing. */
const nothing = { full: 0, fluent: 0, lean: 0, voices: 0 };
const SILENT: MoveWeights = {
  ...COSTS.move,
  travel: { ...COSTS.move.travel, scale: nothing },
  fingers: { putDown: 0, slid: 0, crossed: 0, barreChanged: 0, exchanged: 0, flatFingerRaised: 0 },
  voices: { ...COSTS.move.voices, scale: nothing },
  stringSetChanged: nothing,
  regrippedOnRepeat: 0,
  tooFast: nothing,
  inAndOutOfHarmony: 0,
};
const ONLY_VOICES: MoveWeights = { ...SILENT, voices: COSTS.move.voices };
const ONLY_TRAVEL: MoveWeights = { ...SILENT, travel: COSTS.move.travel };

// C, then chords under the same melody note, E.
const C = "x x x 5:1 5:1 x";

test("an inner voice that stays is free, a step is cheap, a leap costs more than its steps together", () => {
  // The second voice rises by none, one, two and six semitones under one melody note.
  const to = (fret: number) => costOf("x x x 2:1 8:4 x", `x x x ${fret}:1 8:4 x`, {}, ONLY_VOICES);
  expect(to(2)).toBe(0);
  expect(to(3)).toBeGreaterThan(0);
  expect(to(3)).toBeLessThan(to(4));
  expect(to(8)).toBeGreaterThan(3 * to(4));
});

test("where the melody leaps, the voices under it may leap as far", () => {
  const leap = costOf("x x x 2:1 3:2 x", "x x x 7:1 8:2 x", {}, ONLY_VOICES);
  const aloneBelow = costOf("x x x 2:1 8:4 x", "x x x 7:1 8:4 x", {}, ONLY_VOICES);
  expect(leap).toBeLessThan(aloneBelow);
});

test("a voice that comes or goes has its price", () => {
  const stays = costOf("x x 5:1 5:1 5:1 x", "x x 5:1 5:1 5:1 x", {}, ONLY_VOICES);
  expect(costOf("x x 5:1 5:1 5:1 x", C, {}, ONLY_VOICES)).toBeGreaterThan(stays);
  expect(costOf(C, "x x 5:1 5:1 5:1 x", {}, ONLY_VOICES)).toBeGreaterThan(stays);
});

test("a bass that goes to a root leaps, and rests, more cheaply than another voice", () => {
  const led = (from: string, to: string, lowest: string) =>
    moveCosts(packedColumn([struck(from)]), packedColumn([struck(to, lowest)]), TERMS, ONLY_VOICES)(0, 0);
  const leap = ["x 3:3 5:1 5:1 5:1 x", "x 8:4 5:1 5:1 5:1 x"] as const;
  expect(led(...leap, "1")).toBeLessThan(led(...leap, "5"));
  const comes = ["x x 5:1 5:1 5:1 x", "x 8:4 5:1 5:1 5:1 x"] as const;
  expect(led(...comes, "1")).toBeLessThan(led(...comes, "5"));
  expect(led(...comes, "bass")).toBe(led(...comes, "1"));
});

test("a bass that is a root may come under voices that go on, of which one goes", () => {
  // F, C and D under G; then their F and B, a semitone from the C, with G below: as near as no voice moved far.
  const led = (lowest: string) =>
    moveCosts(
      packedColumn([struck("x x 3:1 5:3 3:1 3:1")]),
      packedColumn([struck("3:1 x 3:1 4:2 3:1 x", lowest)]),
      TERMS,
      ONLY_VOICES,
    )(0, 0);
  const { bassComesOrGoes, voiceComesOrGoes, eachVoice, scale } = ONLY_VOICES.voices;
  expect(led("1")).toBeLessThanOrEqual(
    Math.round((bassComesOrGoes + voiceComesOrGoes + (eachVoice[1] ?? 0)) * scale[TERMS.texture]),
  );
  expect(led("1")).toBeLessThan(led("3"));
});

test("going to another set of strings costs, adding a string to it does not", () => {
  const weights: MoveWeights = { ...SILENT, stringSetChanged: COSTS.move.stringSetChanged };
  expect(costOf("x x 5:1 5:1 5:1 x", "x x x 5:1 5:1 5:1", {}, weights)).toBeGreaterThan(0);
  expect(costOf(C, "x x 5:1 5:1 5:1 x", {}, weights)).toBe(0);
});

test("a bass that stays is no bass that goes, whichever voice above it the melody takes", () => {
  // C, Bb and E under G; then the melody takes the E, or the C goes instead.
  const whole = packedColumn([struck("x 3:1 x 3:1 5:4 3:1", "1")]);
  const led = (to: string) => moveCosts(whole, packedColumn([struck(to, "1")]), TERMS, ONLY_VOICES)(0, 0);
  expect(led("x 3:1 x 3:1 5:4 x")).toBe(ONLY_VOICES.voices.voiceComesOrGoes);
});

test("under one chord the hand and its fingers stay rather than under a change of chord", () => {
  const weights: MoveWeights = { ...SILENT, fingers: COSTS.move.fingers, travel: COSTS.move.travel };
  const moves = (isSameChord: boolean) =>
    costOf("x x 5:1 5:1 5:1 x", "x x 8:2 8:3 8:4 x", { isSameChord }, weights);
  expect(moves(true)).toBeGreaterThan(1.5 * moves(false));
});

test("a melody note repeated over its chord is not gripped anew", () => {
  const weights: MoveWeights = { ...SILENT, regrippedOnRepeat: COSTS.move.regrippedOnRepeat };
  const again = { isRepeated: true };
  expect(costOf(C, C, again, weights)).toBe(0);
  expect(costOf(C, "x x x 5:2 5:3 x", again, weights)).toBeGreaterThan(0);
  expect(costOf(C, "x x x 4:1 5:2 x", again, weights)).toBeGreaterThan(0);
  expect(costOf(C, "x x x 4:1 5:2 x", {}, weights)).toBe(0);
});

test("a long way costs more than in proportion, and a hurried one more than a calm one", () => {
  const way = (fret: number, seconds: number) =>
    costOf("x x x x 1:1 x", `x x x x ${fret}:1 x`, { seconds }, ONLY_TRAVEL);
  // Fret 3 is 67 mm from fret 1, fret 7 is 180 mm from it.
  expect(way(7, 10)).toBeGreaterThan((180 / 67) * way(3, 10) * 1.3);
  expect(way(3, 0.3)).toBeGreaterThan(1.5 * way(3, 10));
});

test("moving matters more in the fluent texture than in the full one", () => {
  const way = (texture: "full" | "fluent") =>
    costOf("x x x x 1:1 x", "x x x x 7:1 x", { texture }, ONLY_TRAVEL);
  expect(way("fluent")).toBeGreaterThan(way("full"));
});
