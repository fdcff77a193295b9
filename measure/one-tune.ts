import { arrangeScore, completeOptions, Findings, readScore, surveyKeys, type WishesFile } from "undervoice";
import { loadTune } from "./load-tune.js";

/** A figure of a warm process with what it is to be. */
export interface Figure {
  readonly figure: string;
  readonly value: number;
  readonly unit: string;
  readonly target: string;
}

const OPTIONS = completeOptions({});

/** What a tune of 32 bars takes when another choice is made in it, and when all its keys are compared. */
export function oneTuneFigures(rounds = 15): readonly Figure[] {
  const score = readScore(new TextEncoder().encode(loadTune()), new Findings());
  const arrange = (wishes?: WishesFile) => arrangeScore(score, OPTIONS, new Findings(), wishes);
  // What is known of one neck says nothing of another: neither the keys nor the one arrangement are remembered.
  let necks = 0;
  const onNextNeck = () => {
    necks += 1;
    return completeOptions({ scaleLength: 650 + necks / 10 });
  };
  const alone = (round: number): WishesFile => ({
    wishes: [{ measure: 1 + ((round * 5) % 32), beat: 2, play: "single" }],
  });
  for (let round = 0; round < 5; round += 1) arrange(alone(round));
  const changed = middle(rounds, (round) => arrange(alone(round)));
  const fresh = middle(rounds, () => arrangeScore(score, onNextNeck(), new Findings()));
  const keys = middle(3, () => surveyKeys(score, onNextNeck(), new Findings()));
  return [
    { figure: "32 bars, one choice changed", value: changed, unit: "ms", target: "50" },
    { figure: "32 bars, all keys / one arrangement", value: keys / fresh, unit: "", target: "4" },
  ];
}

/** Time for each note of tunes of so many bars, against one of the first length. */
export function longTuneFigures(lengths: readonly number[] = [250, 2_400]): readonly Figure[] {
  const perNote = lengths.map((bars) => {
    const score = readScore(new TextEncoder().encode(loadTune(bars)), new Findings());
    const took = middle(3, () => arrangeScore(score, OPTIONS, new Findings()));
    return took / (bars * 4);
  });
  const [first = 1] = perNote;
  return perNote.slice(1).map((each, index) => ({
    figure: `a note of ${(lengths[index + 1] ?? 0) * 4} / of ${(lengths[0] ?? 0) * 4}`,
    value: each / first,
    unit: "",
    target: "1.2",
  }));
}

/** The middle of some times, ms. */
function middle(rounds: number, work: (round: number) => unknown): number {
  const times = Array.from({ length: rounds }, (_, round) => {
    const start = performance.now();
    work(round);
    return performance.now() - start;
  });
  return times.toSorted((one, other) => one - other)[Math.floor(rounds / 2)] ?? Number.NaN;
}
