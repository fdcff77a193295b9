import type { Finding } from "../../diagnostics.js";
import type { StatedInstrument } from "../../guitar/guitar-score.js";
import { STANDARD_TUNING } from "../../guitar/instrument.js";
import { LETTERS, type Letter, midiOf } from "../../song/pitch.js";
import { attributeOf, childrenNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { numberFrom, numberIn } from "../numbers/read-number.js";
import { placeIn } from "../timeline/walked-part.js";
import type { ScoreStaff } from "./guitar-staves.js";

/** What the `<staff-details>` of a staff say, by time of the first that says it. */
export function statedInstrument(staff: ScoreStaff): StatedInstrument {
  const details = detailsOf(staff).map(({ element }) => element);
  return {
    openStrings: details.map(tuningIn).find((tuning) => tuning !== undefined),
    capo: details.map(capoIn).find((capo) => capo !== undefined),
  };
}

/** Later changes of tuning or capo, which are not followed. */
export function instrumentChanges(staff: ScoreStaff): readonly Finding[] {
  const { openStrings, capo } = statedInstrument(staff);
  return detailsOf(staff).flatMap(({ element, at, measure }): readonly Finding[] => {
    const tuning = tuningIn(element);
    const later = capoIn(element);
    const isSame =
      (tuning === undefined || tuning.join() === openStrings?.join()) &&
      (later === undefined || later === capo);
    const here = staff.part.measures[measure];
    if (isSame || here === undefined) return [];
    return [
      {
        rule: "instrument-changes",
        severity: "warning",
        place: placeIn(staff.part, here, at),
        found: "another tuning or capo than at the start",
        expected: "one tuning and capo throughout",
        message: "The tuning or the capo changes here; what follows was still read with the first one.",
      },
    ];
  });
}

const detailsOf = ({ part, staff }: ScoreStaff) =>
  part.attributes.flatMap(({ element, at, measure }) =>
    childrenNamed(element, "staff-details")
      .filter((details) => (attributeOf(details, "number")?.trim() || "1") === staff)
      .map((details) => ({ element: details, at, measure })),
  );

/** Lines count from the bottom, strings from the top: of six lines, line 6 is string 1. */
function tuningIn(details: XmlElement): readonly number[] | undefined {
  const byLine = new Map<number, number>();
  for (const tuning of childrenNamed(details, "staff-tuning")) {
    const line = numberFrom("staff-tuning@line", attributeOf(tuning, "line"));
    const letter = childText(tuning, "tuning-step") ?? "";
    const octave = numberIn(tuning, "tuning-octave");
    const alter = numberIn(tuning, "tuning-alter") ?? 0;
    if (line !== undefined && octave !== undefined && LETTERS.includes(letter as Letter))
      byLine.set(line, midiOf({ letter: letter as Letter, alter, octave }));
  }
  if (byLine.size === 0) return undefined;
  const lines = Math.max(numberIn(details, "staff-lines") ?? 0, ...byLine.keys());
  const strings = Array.from({ length: lines }, (_, index) => byLine.get(lines - index));
  // Lines that are not tuned keep the usual string.
  const filled = strings.map(
    (midi, index) => midi ?? (lines === STANDARD_TUNING.length ? STANDARD_TUNING[index] : undefined),
  );
  return filled.every((midi) => midi !== undefined) ? filled : undefined;
}

const capoIn = (details: XmlElement): number | undefined => numberIn(details, "capo");
