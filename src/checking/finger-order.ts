import { faultOf, fingerPairs } from "./finger-pairs.js";
import { placeAt, type Rule } from "./judged-score.js";

/** A higher finger at a lower fret than a lower one: the fingers would have to cross. */
export const fingerOrder: Rule = ({ score, instrument, moments }) =>
  moments.flatMap((moment) =>
    fingerPairs(moment)
      .filter((pair) => faultOf(instrument, pair) === "order")
      .map(({ a, b }) => ({
        rule: "finger-order",
        severity: "error",
        place: placeAt(score, moment.onset, moment.measure),
        found: `finger ${a.finger} at fret ${a.fret}, finger ${b.finger} at fret ${b.fret}`,
        expected: "the higher finger at the same fret or a higher one",
        message: `Finger ${b.finger} at fret ${b.fret} lies below finger ${a.finger} at fret ${a.fret}.`,
        hint: "Change the two fingers over.",
      })),
  );
