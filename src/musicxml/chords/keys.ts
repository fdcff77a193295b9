import type { Finding, Findings } from "../../diagnostics.js";
import { firstWhere } from "../../song/in-time-order.js";
import { attributeOf, childNamed, childrenNamed, childText } from "../../xml/xml-tree.js";
import { numberIn } from "../numbers/read-number.js";
import type { Quarters } from "../timeline/exact-time.js";
import { placeIn, type WalkedPart } from "../timeline/walked-part.js";
import type { WrittenKey } from "./read-harmony.js";

export interface TimedKey extends WrittenKey {
  readonly at: Quarters;
}

/** Key signatures of a part as written, for one staff, by time. */
export function writtenKeys(part: WalkedPart, staff: string, findings: Findings): readonly TimedKey[] {
  const keys = part.attributes.flatMap(({ at, measure, element }) =>
    childrenNamed(element, "key").flatMap((key): readonly TimedKey[] => {
      const number = attributeOf(key, "number");
      if (number !== undefined && number.trim() !== staff) return [];
      const fifths = numberIn(key, "fifths");
      if (fifths === undefined) {
        const here = part.measures[measure];
        if (here !== undefined && childNamed(key, "key-step") !== undefined)
          findings.add(keyUnusual(placeIn(part, here, at)));
        return [{ at, fifths: 0, mode: undefined }];
      }
      const mode = childText(key, "mode")?.toLowerCase();
      return [{ at, fifths, mode: mode === "major" || mode === "minor" ? mode : undefined }];
    }),
  );
  return keys.sort((one, other) => one.at.compare(other.at));
}

/** The key in force at a time: no sharps or flats before the first signature. */
export function keyAt(keys: readonly TimedKey[], at: Quarters): WrittenKey {
  const inForce = keys[firstWhere(keys, (key) => key.at.gt(at)) - 1];
  return inForce ?? { fifths: 0, mode: undefined };
}

const keyUnusual = (place: Finding["place"]): Finding => ({
  rule: "key-unusual",
  severity: "warning",
  place,
  found: "a key signature that is no circle of fifths",
  expected: "sharps or flats in their order",
  message:
    "The key signature is not one of sharps or flats in their order; the notes were read as they stand.",
});
