import Fraction from "fraction.js";
import { isCompound } from "../../song/beats.js";
import type { Meter, MetricWeight } from "../../song/tune.js";
import { attributeOf, childNamed, elementsOf, textOf, type XmlElement } from "../../xml/xml-tree.js";
import { numberFrom } from "../numbers/read-number.js";
import type { Quarters } from "./exact-time.js";

/**
 * Reads `<time>`: sums such as 3+2 are added up, several signatures are added to one. Undefined for
 * senza misura and for anything that is no number.
 */
export function readMeter(time: XmlElement): Meter | undefined {
  if (childNamed(time, "senza-misura") !== undefined || attributeOf(time, "symbol") === "senza-misura")
    return undefined;
  let total = new Fraction(0);
  let smallest = 0;
  let beats: number | undefined;
  for (const child of elementsOf(time)) {
    if (child.name === "beats") beats = numberFrom("beats", textOf(child));
    if (child.name !== "beat-type") continue;
    const beatType = numberFrom("beat-type", textOf(child));
    if (beats === undefined || beatType === undefined) return undefined;
    total = total.add(new Fraction(beats, beatType));
    smallest = Math.max(smallest, beatType);
  }
  if (smallest === 0) return undefined;
  const counted = total.mul(smallest);
  return counted.d === 1n ? { beats: counted.valueOf(), beatType: smallest } : undefined;
}

/** Length of a whole bar. */
export const barLength = (meter: Meter): Quarters => new Fraction(4 * meter.beats, meter.beatType);

/** What a listener counts, exactly; see `quartersPerBeat`. */
export function beatLength(meter: Meter | undefined): Quarters {
  return meter === undefined ? new Fraction(1) : new Fraction(isCompound(meter) ? 12 : 4, meter.beatType);
}

/** 3 on the downbeat, 2 halfway through a bar of an even number of beats, 1 on other beats, 0 between. */
export function metricWeight(position: Quarters, meter: Meter | undefined): MetricWeight {
  const beat = position.div(beatLength(meter));
  if (beat.d !== 1n) return 0;
  if (beat.n === 0n) return 3;
  if (meter === undefined) return 1;
  const beats = barLength(meter).div(beatLength(meter)).valueOf();
  if (beat.valueOf() % beats === 0) return 3;
  return beats % 2 === 0 && beat.valueOf() % beats === beats / 2 ? 2 : 1;
}
