import type { Finding } from "../diagnostics.js";
import { barresOf } from "../guitar/fingering.js";
import type { Finger } from "../guitar/grip.js";
import { fretDistanceMm, widestHandMm } from "../guitar/hand-reach.js";
import { fingeringWith } from "../guitar/placements-of-pitches.js";
import { faultOf, fingerPairs } from "./finger-pairs.js";
import { type JudgedScore, placeAt, type Rule } from "./judged-score.js";
import { isStopped, isStruckAt, type Moment } from "./moments.js";

/** A left hand has four fingers for the strings. */
const FINGERS = 4;

/**
 * Grips that no hand holds although no pair of their fingers is at fault: too many fingers, a barre over
 * a lower note, or strings without fingers for which there are none.
 */
export const gripImpossible: Rule = (judged) =>
  judged.moments.flatMap((moment): readonly Finding[] => {
    const { held } = moment;
    if (!held.some((one) => isStopped(one) && isStruckAt(moment, one))) return [];
    if (fingerPairs(moment).some((pair) => faultOf(judged.instrument, pair) !== undefined)) return [];
    const fingers = held.map(({ finger }) => finger);
    if (fingeringWith(judged.instrument, held, fingers) !== undefined) return [];
    return [finding(judged, moment, fingers)];
  });

function finding(judged: JudgedScore, moment: Moment, fingers: readonly (Finger | undefined)[]): Finding {
  const { held } = moment;
  const where = held.map(({ string, fret }) => `${string}:${fret}`).join(" ");
  const [rule, reason, hint] = reasonFor(judged, moment, fingers);
  return {
    rule,
    severity: "error",
    place: placeAt(judged.score, moment.onset, moment.measure),
    found: `strings and frets ${where}`,
    expected: "a grip that four fingers can hold",
    message: `No hand holds ${where}: ${reason}.`,
    hint,
  };
}

function reasonFor(
  { instrument }: JudgedScore,
  { held }: Moment,
  fingers: readonly (Finger | undefined)[],
): readonly [string, string, string] {
  const frets = held.filter(isStopped).map(({ fret }) => fret);
  const spanMm = fretDistanceMm(instrument, Math.min(...frets), Math.max(...frets));
  if (spanMm > widestHandMm(instrument))
    return [
      "finger-reach",
      `frets ${Math.min(...frets)} and ${Math.max(...frets)} are ${Math.round(spanMm)} mm apart`,
      "Play some of it on other strings.",
    ];
  if (fingeringWith({ ...instrument, barres: "all" }, held, fingers) !== undefined)
    return [
      "barre-unwanted",
      `it asks for a barre${instrument.barres === "partial" ? " of more than three strings, or of another finger than the index" : ""}`,
      "Leave a note out, or allow it with the option barres.",
    ];
  const given = fingers.map((finger) => finger ?? 0);
  const barre = fingers.includes(undefined) ? undefined : barresOf(held, given)[0];
  if (barre !== undefined)
    return [
      "barre-impossible",
      `finger ${barre.finger} cannot bar strings ${barre.from} to ${barre.to} at fret ${barre.fret}`,
      "A barre takes neighbouring strings, and nothing lower may sound under it.",
    ];
  if (frets.length > FINGERS)
    return [
      "too-many-fingers",
      `${frets.length} stopped strings ask for more than four fingers`,
      "Leave a note out.",
    ];
  const isFree = fingeringWith(instrument, held, []) !== undefined;
  return [
    "grip-impossible",
    isFree ? "its other strings leave no finger for the ones that have none" : "no fingers reach all of it",
    isFree ? "Change the fingers that are given." : "Leave a note out, or play one on another string.",
  ];
}
