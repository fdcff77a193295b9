import { isSameName, transposeName } from "../../song/pitch.js";
import { childNamed, element, withChildren, withElements, type XmlElement } from "../../xml/xml-tree.js";
import { numeralRoot, type WrittenKey } from "../chords/read-harmony.js";
import type { TimedHarmony } from "../lead-sheet/lead-sheet.js";
import { NUMBER_LIMITS } from "../numbers/number-limits.js";
import { numberIn } from "../numbers/read-number.js";
import { movedName, NO_SHIFT } from "../timeline/transposition.js";
import { movedFifths } from "./moved-name.js";
import { intervalToGuitar } from "./moved-step.js";

/** `<numeral>` with the key of its own moved, if it has one; as it stands where nothing moves. */
export function movedNumeral(numeral: XmlElement, interval: string): XmlElement {
  if (interval === "1P") return numeral;
  const movedKey = (key: XmlElement) => {
    const fifths = numberIn(key, "numeral-fifths");
    return fifths === undefined
      ? key
      : withElements(key, (one) =>
          one.name === "numeral-fifths" ? element(one.name, {}, [movedNumeralFifths(fifths, interval)]) : one,
        );
  };
  return withElements(numeral, (own) => (own.name === "numeral-key" ? movedKey(own) : own));
}

/**
 * A numeral of the lead sheet for the guitar part. Without a key of its own it is a degree of the signature it stands
 * under; where that of the guitar would make another chord of it, it says the key that it means, unprinted.
 *
 * @param shown the guitar's key signature at its time
 */
export function numeralForGuitar(
  numeral: XmlElement,
  { key, transposition }: Pick<TimedHarmony, "key" | "transposition">,
  shown: WrittenKey,
  interval: string,
): XmlElement {
  const toGuitar = intervalToGuitar(transposition, interval);
  const moved = movedNumeral(numeral, toGuitar);
  const root = numeralRoot(numeral, key);
  if (root === undefined || childNamed(numeral, "numeral-key") !== undefined) return moved;
  const meant = transposeName(movedName(root, transposition), interval);
  const read = numeralRoot(moved, shown);
  if (read !== undefined && isSameName(movedName(read, NO_SHIFT), meant)) return moved;
  const ownKey = element("numeral-key", { "print-object": "no" }, [
    element("numeral-fifths", {}, [movedNumeralFifths(key.fifths, toGuitar)]),
    element("numeral-mode", {}, [key.mode ?? "major"]),
  ]);
  return withChildren(moved, [...moved.children, ownKey]);
}

/**
 * Nobody has to read such a signature: a key of eleven sharps names a chord as the notes beside it are spelled, where its
 * neighbour of one flat would not.
 */
const movedNumeralFifths = (fifths: number, interval: string): number =>
  movedFifths(fifths, interval, NUMBER_LIMITS["numeral-fifths"].most);
