import { barresOf } from "../guitar/fingering.js";
import { fingeringWith } from "../guitar/placements-of-pitches.js";
import { placeAt, type Rule } from "./judged-score.js";
import { isStruckAt } from "./moments.js";

/** Strings from which on a barre is hard work: a full one for the index, three for a finger that bends back. */
const WIDE = { index: 5, others: 3 };

/** Wide barres, each where it is laid. A full barre is for short stretches ("Student level 5", musiccatalog.net). */
export const barreWide: Rule = ({ score, instrument, moments }) =>
  moments.flatMap((moment) => {
    const { held } = moment;
    const given = held.map(({ finger }) => finger);
    const fingers = given.map((finger) => finger ?? 0);
    // One that no hand can lay is another rule's.
    if (fingeringWith(instrument, held, given) === undefined) return [];
    return barresOf(held, fingers)
      .filter(({ finger, from, to }) => from - to + 1 >= (finger === 1 ? WIDE.index : WIDE.others))
      .filter(({ finger }) => held.some((one) => one.finger === finger && isStruckAt(moment, one)))
      .map(({ finger, fret, from, to }) => ({
        rule: "barre-wide",
        severity: "warning",
        place: placeAt(score, moment.onset, moment.measure),
        found: `finger ${finger} across strings ${from} to ${to}`,
        expected: `fewer than ${finger === 1 ? WIDE.index : WIDE.others} strings under finger ${finger}`,
        message: `Finger ${finger} bars strings ${from} to ${to} at fret ${fret}.`,
      }));
  });
