import { isSameName, type PitchName, transposeName } from "../../song/pitch.js";
import { childNamed, childrenNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { numeralRoot } from "../chords/read-harmony.js";
import { listedNames } from "../guitar-writing/key-and-time.js";
import { movedFifths } from "../guitar-writing/moved-name.js";
import { movedNumeral } from "../guitar-writing/moved-numeral.js";
import { movedStep } from "../guitar-writing/moved-step.js";
import type { LeadSheet, TimedHarmony, WrittenTransposition } from "../lead-sheet/lead-sheet.js";
import { transpositionInForce } from "../lead-sheet/transposition-in-force.js";
import { numberIn } from "../numbers/read-number.js";
import { movedName, soundingFifths } from "../timeline/transposition.js";

/**
 * Whether the tune, moved as it is written, is read as the guitar has it, which moves it as it sounds. For an instrument that
 * transposes it need not be: names and signatures with too many accidentals give way to their neighbours, and what is too
 * many is another thing in another key.
 */
export function isReadAlike({ source }: Pick<LeadSheet, "source">, interval: string): boolean {
  const { measures, written } = source;
  const shiftAt = (tick: number) => transpositionInForce(source, tick);
  const isNameAlike = (name: PitchName | undefined, shift: WrittenTransposition) => {
    if (name === undefined) return true;
    const asLead = movedName(transposeName(name, interval), shift);
    return isSameName(asLead, transposeName(movedName(name, shift), interval));
  };
  const isNumeralAlike = ({ element, key, transposition }: TimedHarmony) => {
    const numeral = childNamed(element, "numeral");
    const root = numeral && numeralRoot(numeral, key);
    if (numeral === undefined || root === undefined) return true;
    const inLead = { ...key, fifths: movedFifths(key.fifths, interval) };
    const rootInLead = numeralRoot(movedNumeral(numeral, interval), inLead);
    const asGuitar = transposeName(movedName(root, transposition), interval);
    return rootInLead !== undefined && isSameName(movedName(rootInLead, transposition), asGuitar);
  };
  const isKeyAlike = (fifths: number, shift: WrittenTransposition) =>
    soundingFifths(movedFifths(fifths, interval), shift) ===
    movedFifths(soundingFifths(fifths, shift), interval);
  const keyElements = measures
    .flatMap(({ attributes }) => attributes)
    .flatMap(({ at, element }) => childrenNamed(element, "key").map((key) => ({ at, key })));
  const keys = keyElements.map(({ at, key }) => ({ at, fifths: numberIn(key, "fifths") ?? 0 }));
  // A staff that begins without a signature is in one of none.
  const signatures = keys[0]?.at === 0 ? keys : [{ at: 0, fifths: 0 }, ...keys];
  return (
    written.every(({ element, onset }) => isNameAlike(nameIn(element, "pitch", "step"), shiftAt(onset))) &&
    measures
      .flatMap(({ harmonies }) => harmonies)
      .every(
        (harmony) =>
          isNameAlike(nameIn(harmony.element, "root", "root-step"), harmony.transposition) &&
          isNameAlike(nameIn(harmony.element, "bass", "bass-step"), harmony.transposition) &&
          isNumeralAlike(harmony),
      ) &&
    signatures.every(({ at, fifths }) => isKeyAlike(fifths, shiftAt(at))) &&
    keyElements.every(({ at, key }) =>
      listedNames(key).every((name) => name === undefined || isNameAlike(name, shiftAt(at))),
    )
  );
}

/** A name that stands in an element, as it is written. */
function nameIn(
  element: XmlElement | undefined,
  holder: "pitch" | "root" | "bass",
  step: string,
): PitchName | undefined {
  const tone = element && childNamed(element, holder);
  if (tone === undefined) return undefined;
  const alter = numberIn(tone, holder === "pitch" ? "alter" : `${holder}-alter`);
  return movedStep(childText(tone, step) ?? "", alter, "1P");
}
