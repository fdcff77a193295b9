import { faultOf, fingerPairs } from "./finger-pairs.js";
import { fingerText, placeAt, type Rule } from "./judged-score.js";

/** One finger at two frets at once. */
export const fingerOnTwoFrets: Rule = ({ score, instrument, moments }) =>
  moments.flatMap((moment) =>
    fingerPairs(moment)
      .filter((pair) => faultOf(instrument, pair) === "two-frets")
      .map(({ a, b }) => ({
        rule: "finger-on-two-frets",
        severity: "error",
        place: placeAt(score, moment.onset, moment.measure),
        found: `finger ${a.finger} at frets ${a.fret} and ${b.fret}`,
        expected: "one fret for each finger",
        message: `Finger ${a.finger} is on string ${a.string} fret ${a.fret} and on string ${b.string} fret ${b.fret} at once.`,
        hint: `While ${fingerText(a.finger)} holds one of them, another has to take the other.`,
      })),
  );
