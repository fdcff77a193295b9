import { textOfFinding } from "../diagnostics.js";
import { oneLine } from "../one-line.js";
import { distanceText, isOctaves } from "../song/distance-text.js";
import type { Moment, Report } from "./report.js";

/** A few lines for the terminal: what came out, the hardest place in it, and what was worth saying. */
export function summaryLines(report: Report): readonly string[] {
  const { title, key, melody, chordChangesUnderHeldNotes, hardestMove, moves, widestReach } = report;
  const moved =
    key.semitones === 0
      ? ""
      : isOctaves(key.semitones)
        ? `, ${distanceText(key.semitones)}`
        : ` to ${key.after} (${signed(key.semitones)} semitones)`;
  return [
    oneLine(title ?? "Untitled"),
    `Key: ${key.before}${moved}`,
    `Melody: ${melody.notes} notes from part ${partText(melody)}: ${melody.struck} struck with a chord, ` +
      `${melody.held} over a chord that rings on, ${melody.single} alone` +
      (melody.singleUnderChord === 0 ? "" : ` (${melody.singleUnderChord} of them under a chord symbol)`),
    ...(chordChangesUnderHeldNotes === 0
      ? []
      : [`Chord changes under held notes: ${chordChangesUnderHeldNotes}`]),
    hardestMove === undefined
      ? "Hardest move: none, the hand stays where it is"
      : `Hardest move: ${whole(hardestMove.moveMm)} mm in ${tenths(hardestMove.secondsAvailable)} s ` +
        `(${whole(hardestMove.mmPerSecond)} mm/s), to ${momentText(hardestMove.to)}`,
    ...(moves.beyondLimit === 0
      ? []
      : [`Moves faster than ${moves.limitMmPerSecond} mm/s: ${moves.beyondLimit} of ${moves.count}`]),
    ...(widestReach === undefined
      ? []
      : [`Widest reach: ${whole(widestReach.reachMm)} mm, ${momentText(widestReach)}`]),
    ...voicesLines(report),
    ...(report.playedOtherwise.length === 0
      ? []
      : [`Come again and are played otherwise than before: ${measures(report.playedOtherwise)}`]),
    ...report.findings.map(textOfFinding),
  ];
}

/** At how many moments voices of an ensemble are not all played. */
function voicesLines({ events }: Report): readonly string[] {
  const without = events.filter(({ voicesLeftOut }) => voicesLeftOut !== undefined);
  const withoutTone = without.filter(({ voicesLeftOut = [] }) =>
    voicesLeftOut.some(({ toneSounds }) => !toneSounds),
  );
  return without.length === 0
    ? []
    : [
        `Voices left out: at ${without.length} of ${events.length} moments; at ${withoutTone.length} of these a tone is missing`,
      ];
}

/** "measure 12 (numbered 11a), beat 3". */
export function momentText({ measure, measureLabel, beat }: Moment): string {
  const label = measureLabel === undefined ? "" : ` (numbered ${oneLine(measureLabel)})`;
  return `measure ${measure}${label}, beat ${beat}`;
}

/** "P1 (Flute)". */
const partText = ({ part, partName }: Report["melody"]): string =>
  oneLine(partName === undefined || partName === part ? part : `${part} (${partName})`);

const measures = (numbers: readonly number[]): string =>
  `measure${numbers.length === 1 ? "" : "s"} ${numbers.join(", ")}`;

const signed = (value: number): string => (value > 0 ? `+${value}` : String(value));
const whole = (value: number): string => value.toFixed(0);
const tenths = (value: number): string => value.toFixed(value < 1 ? 2 : 1);
