import type { Finding } from "../diagnostics.js";
import type { HandMove } from "./hand-moves.js";
import { type JudgedScore, placeAt, type Rule } from "./judged-score.js";

/**
 * Moves along the neck that are faster than the hand may travel. Never more than a warning, however fast: slower, any of
 * them can be done, and a tune may leap farther than any hand goes at its tempo.
 */
export const moveTooFast: Rule = (judged) =>
  judged.moves.filter((move) => speedOf(move) > judged.shift).map((move) => tooFast(judged, move));

/** Millimetres a second along the neck. */
export const speedOf = ({ moveMm, secondsAvailable }: HandMove): number =>
  moveMm === 0 ? 0 : moveMm / secondsAvailable;

function tooFast({ score, shift }: JudgedScore, move: HandMove): Finding {
  const speed = Math.round(speedOf(move));
  const from = placeAt(score, move.from.onset, move.from.measure);
  return {
    rule: "move-too-fast",
    severity: "warning",
    place: placeAt(score, move.to.onset, move.to.measure),
    found: `${Math.round(move.moveMm)} mm in ${move.secondsAvailable.toFixed(2)} s`,
    expected: `at most ${shift} mm a second`,
    message: `The hand travels ${Math.round(move.moveMm)} mm along the neck in ${move.secondsAvailable.toFixed(2)} s from measure ${from.measure}, beat ${from.beat ?? 1}: ${speed} mm a second.`,
    hint: "Let a note before it go early, leave a chord out, or play one of the two grips nearer to the other.",
  };
}
