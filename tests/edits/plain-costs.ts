import type { CostTable } from "../../src/arranging/costs/cost-table.js";

/**
 * Weights for scores that edits are made in: what these tests say is about what a player changed, so their
 * score stays as it is when the weights of music are chosen anew.
 */
export const plainCosts = (ours: CostTable): CostTable => ({
  hand: { ...ours.hand, spanEachMm: 0.5, wideSpanEachMm: 6 },
  sameness: { eachMeasure: 0 },
  voicing: {
    ...ours.voicing,
    missing: { ...ours.voicing.missing, root: 200 },
    noteFewer: 0,
    fifthNote: 210,
    droppedWhileHeld: { guideOrRoot: 300, other: 160 },
    doubledInFullTriad: 60,
    fifthForFourths: 0,
    fourthsForFifth: 0,
    unknownShape: 0,
    silentInnerString: 40,
    silentStringAboveLowest: 40,
    spreadThreeNotes: 0,
    hole: 0,
    lowestNotRootOrFifth: 40,
    lowestIsFifth: 0,
    threeHighestStrings: 0,
    unusualFingersEachPoint: 1,
    notOnRoot: 0,
    onHighRoot: 0,
    lowToneNotRootOrFifth: 28,
    littleFingerBarre: 0,
    bassBelowMidi: 50,
    lowestIsTension: 0,
    underLowIntervalLimitEachSemitone: 12,
    melodyPastBody: 0,
    openUnderHighHand: 60,
    thickStringHighEachFret: 0,
  },
  move: {
    ...ours.move,
    travel: {
      ...ours.move.travel,
      eachMm: 0.5,
      longEachMm: 0,
      hurriedEachMm: 0.1,
      scale: { full: 1, fluent: 1, lean: 1, voices: 0 },
    },
    voices: {
      eachVoice: [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
      melodyStepSemitones: 100,
      voiceComesOrGoes: 0,
      bassShare: 1,
      bassComesOrGoes: 0,
      scale: { full: 1, fluent: 2, lean: 1, voices: 0 },
    },
    stringSetChanged: { full: 0, fluent: 0, lean: 0, voices: 0 },
    regrippedOnRepeat: 0,
    underOneChord: 1,
  },
  texture: {
    ...ours.texture,
    heldFluent: [0, 10, 30, 60],
    heldHollowEachSecond: 0,
    heldWhereStrikeIsDue: 0,
    struckAgain: [0, 0, 0, 0],
    quickSeconds: 0,
    wideAtTempoEachMm: 0,
  },
  sung: ours.sung,
  rightHand: ours.rightHand,
});

/** The module of the weights with these in it, for `vi.mock`. */
export async function withPlainCosts(
  original: () => Promise<typeof import("../../src/arranging/costs/cost-table.js")>,
) {
  const { COSTS } = await original();
  return { COSTS: plainCosts(COSTS) };
}
