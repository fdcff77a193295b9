import Fraction from "fraction.js";
import { attributeOf, element, type XmlElement } from "../../xml/xml-tree.js";
import type { Quarters } from "../timeline/exact-time.js";

/**
 * The tie of a melody note that rings on. Its id tells it from one that the lead sheet has, should this part become
 * that, and says what no element does: how many quarters beyond its note, as a fraction, the note rings.
 */
export const letRing = (noteId: string, beyond: Quarters): XmlElement =>
  element("tied", { type: "let-ring", id: `${noteId}-rings-on-${beyond.n}-${beyond.d}` });

const OWN_ID = /-rings-on-(\d+)-([1-9]\d*)$/;

export const isLetRing = (mark: XmlElement): boolean =>
  mark.name === "tied" && attributeOf(mark, "type") === "let-ring";

/** How many quarters beyond its note a note with such a tie rings; undefined where the tie is none of ours. */
export function ringsBeyond(tied: XmlElement): Quarters | undefined {
  const [, numerator, denominator] = OWN_ID.exec(attributeOf(tied, "id") ?? "") ?? [];
  return numerator === undefined ? undefined : new Fraction(`${numerator}/${denominator}`);
}
