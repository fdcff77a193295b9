import { momentText } from "undervoice";
import { distanceText, isOctaves } from "#built/song/distance-text.js";
import type { Draft } from "./core/core-messages.js";

/** What came out, as a person would say it. */
export function summaryInWords({ report, quartersPerMinute }: Draft): string {
  const { key, melody, hardestMove, moves, widestReach } = report;
  const moved =
    key.semitones === 0
      ? key.before
      : isOctaves(key.semitones)
        ? `${key.before}, ${distanceText(key.semitones)}`
        : `${key.after} (from ${key.before})`;
  const sentences = [
    `In ${moved}, at ${Math.round(quartersPerMinute)} quarter notes a minute.`,
    `Of ${melody.notes} melody notes ${counted(melody.struck, "is", "are")} struck with a chord, ${counted(melody.held, "lies", "lie")} over one that rings on, ${counted(melody.single, "stands", "stand")} alone.`,
    hardestMove === undefined
      ? "The hand stays where it is."
      : `The hardest move is ${Math.round(hardestMove.moveMm)} mm in ${hardestMove.secondsAvailable.toFixed(1)} s, to ${momentText(hardestMove.to)}.`,
    moves.beyondLimit === 0
      ? undefined
      : `${moves.beyondLimit} of ${moves.count} moves are faster than the hand is said to travel.`,
    widestReach === undefined
      ? undefined
      : `The widest reach is ${Math.round(widestReach.reachMm)} mm, at ${momentText(widestReach)}.`,
  ];
  return sentences.filter((sentence) => sentence !== undefined).join(" ");
}

const counted = (count: number, one: string, several: string): string =>
  count === 0 ? `none ${one}` : `${count} ${count === 1 ? one : several}`;
