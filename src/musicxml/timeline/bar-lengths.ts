import type { Finding } from "../../diagnostics.js";
import { attributeOf } from "../../xml/xml-tree.js";
import { type Quarters, ZERO } from "./exact-time.js";
import { barLength } from "./meter.js";
import { barLengthOdd } from "./time-findings.js";
import { placeIn, type WalkedMeasure, type WalkedPart } from "./walked-part.js";

/**
 * Bars that are longer or shorter than their time signature. A pickup, the last bar, a bar that says it
 * is not a whole one, and the two halves of a bar split by a barline are short on purpose.
 */
export function oddBars(part: WalkedPart): readonly Finding[] {
  return part.measures.flatMap((measure, index) => {
    if (measure.meter === undefined) return [];
    const nominal = barLength(measure.meter);
    if (measure.length.equals(nominal)) return [];
    const isMeantShort =
      index === 0 ||
      index === part.measures.length - 1 ||
      attributeOf(measure.element, "implicit") === "yes" ||
      completes(measure, part.measures[index - 1]) ||
      completes(measure, part.measures[index + 1]) ||
      completes(measure, part.measures[0]);
    return measure.length.lt(nominal) && isMeantShort
      ? []
      : [barLengthOdd(measure.length, nominal, placeIn(part, measure))];
  });
}

/** Whether two bars make one of the time signature together. */
const completes = (measure: WalkedMeasure, other: WalkedMeasure | undefined): boolean =>
  other !== undefined &&
  measure.meter !== undefined &&
  measure.length.add(other.length).equals(barLength(measure.meter));

/** What a short bar lacks before its first note: a pickup and the second half of a split bar begin late. */
export function missingBefore(
  measure: Pick<WalkedMeasure, "index" | "length" | "meter">,
  before: Pick<WalkedMeasure, "length" | "missing"> | undefined,
): Quarters {
  if (measure.meter === undefined) return ZERO;
  const nominal = barLength(measure.meter);
  if (measure.length.gte(nominal)) return ZERO;
  if (before === undefined) return nominal.sub(measure.length);
  return before.missing.n === 0n &&
    before.length.lt(nominal) &&
    before.length.add(measure.length).equals(nominal)
    ? before.length
    : ZERO;
}
