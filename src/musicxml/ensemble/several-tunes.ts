import type { Finding } from "../../diagnostics.js";
import { childNamed, childText } from "../../xml/xml-tree.js";
import { placeIn, type WalkedPart } from "../timeline/walked-part.js";

/** Final barlines before the last measure: each may end one tune of several in the file. */
export function severalTunes(part: WalkedPart): readonly Finding[] {
  const last = part.measures.length - 1;
  const ends = part.barlines.filter(
    ({ location, measure, element }) =>
      location === "right" &&
      measure < last &&
      childText(element, "bar-style") === "light-heavy" &&
      childNamed(element, "repeat") === undefined &&
      childNamed(element, "ending") === undefined,
  );
  return ends.flatMap(({ measure }) => {
    const here = part.measures[measure];
    return here === undefined ? [] : [tuneEndsHere(placeIn(part, here))];
  });
}

const tuneEndsHere = (place: Finding["place"]): Finding => ({
  rule: "several-tunes",
  severity: "note",
  place,
  found: "a final barline before the last measure",
  expected: "one tune in a file",
  message: "A tune may end here, and another begin; the whole file was arranged as one.",
  hint: "Export each tune as a file of its own to have them apart.",
});
