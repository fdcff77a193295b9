import type { Finding } from "../diagnostics.js";
import { type FingerPairHeld, faultOf, fingerPairs, pairMm, pairStrainMm } from "./finger-pairs.js";
import { type JudgedScore, placeAt, type Rule } from "./judged-score.js";
import type { Moment } from "./moments.js";

/** Fingers further apart than any hand reaches, and the widest stretch of each grip. */
export const fingerReach: Rule = (judged) =>
  judged.moments.flatMap((moment) => {
    const pairs = fingerPairs(moment);
    const beyond = widest(
      judged,
      pairs.filter((pair) => faultOf(judged.instrument, pair) === "reach"),
    );
    if (beyond !== undefined) return [outOfReach(judged, moment, beyond)];
    const strained = widest(
      judged,
      pairs.filter((pair) => faultOf(judged.instrument, pair) === undefined),
    );
    return strained === undefined ? [] : [stretched(judged, moment, strained)];
  });

/** The pair that is strained most; undefined where none is. */
function widest({ instrument }: JudgedScore, pairs: readonly FingerPairHeld[]): FingerPairHeld | undefined {
  let found: FingerPairHeld | undefined;
  let most = 0;
  for (const pair of pairs) {
    const strain = pairStrainMm(instrument, pair);
    if (strain <= most) continue;
    most = strain;
    found = pair;
  }
  return found;
}

const outOfReach = ({ score, instrument }: JudgedScore, moment: Moment, pair: FingerPairHeld): Finding => ({
  rule: "finger-reach",
  severity: "error",
  place: placeAt(score, moment.onset, moment.measure),
  found: distanceText(pair, pairMm(instrument, pair)),
  expected:
    instrument.reach === undefined || instrument.reach === 1
      ? "a distance a hand can reach"
      : `a distance within ${instrument.reach} of what a hand can reach`,
  message: `Fingers ${pair.a.finger} and ${pair.b.finger} do not reach from fret ${pair.a.fret} to fret ${pair.b.fret}: ${Math.round(pairMm(instrument, pair))} mm.`,
  hint: "Take fingers further apart, or play the chord higher up the neck.",
});

const stretched = ({ score, instrument }: JudgedScore, moment: Moment, pair: FingerPairHeld): Finding => ({
  rule: "finger-stretch",
  severity: "warning",
  place: placeAt(score, moment.onset, moment.measure),
  found: distanceText(pair, pairMm(instrument, pair)),
  expected: `at most ${Math.round(pairMm(instrument, pair) - pairStrainMm(instrument, pair))} mm for a relaxed hand`,
  message: `Fingers ${pair.a.finger} and ${pair.b.finger} stretch over ${Math.round(pairMm(instrument, pair))} mm, from fret ${pair.a.fret} to fret ${pair.b.fret}.`,
});

const distanceText = ({ a, b }: FingerPairHeld, mm: number): string =>
  `fingers ${a.finger} and ${b.finger} ${Math.round(mm)} mm apart`;
