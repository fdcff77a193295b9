import { Findings } from "../../diagnostics.js";
import { CHORD_KINDS } from "../../harmony/chord-kinds.js";
import { LETTERS, type Letter } from "../../song/pitch.js";
import {
  attributeOf,
  childText,
  element,
  elementsOf,
  textOf,
  withChildren,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { NO_SHIFT } from "../timeline/transposition.js";
import { firstChord, readHarmony, spelledOut, type WrittenKey } from "./read-harmony.js";
import { withoutSpelledNames } from "./spelled-names.js";

/**
 * A `<harmony>` with what it is read as in MusicXML's own words: root and bass a letter and an alteration, the kind one of
 * its list. Itself where it is so, or where nothing can be made of it: that is for a person to mend. An old name or a
 * printed text means its chord only in the key that it was written in, so this is what can move to another.
 */
export function listedHarmony(harmony: XmlElement, key: WrittenKey): XmlElement {
  const symbol = spelledHarmony(harmony);
  const { elements } = firstChord(elementsOf(symbol));
  const kind = elements.find(({ name }) => name === "kind");
  const stated = kind === undefined ? "" : textOf(kind).trim();
  // "other" may have its chord in its text.
  if (stated === "none" || (stated !== "other" && Object.hasOwn(CHORD_KINDS, stated))) return symbol;
  const chord = readHarmony(harmony, NO_SHIFT, key, {}, new Findings());
  const printed = kind && attributeOf(kind, "text");
  if (chord === "no-chord") {
    const none = element("kind", { text: printed ?? stated }, ["none"]);
    return withElements(symbol, (child) => (child === kind ? none : child));
  }
  if (chord === undefined || chord.kind === "other") return symbol;
  const text = printed ?? (stated === "" || stated === "other" ? undefined : stated);
  const listed = element("kind", { text }, [chord.kind]);
  const degrees = chord.degrees.map(({ type, value, alter }) =>
    element("degree", {}, [
      element("degree-value", {}, [value]),
      element("degree-alter", {}, [alter]),
      element("degree-type", {}, [type]),
    ]),
  );
  const others = elements.filter(({ name }) => name !== "kind" && name !== "degree");
  const upTo = (names: readonly string[]) => others.filter(({ name }) => names.includes(name));
  const roots = upTo(["root", "numeral", "function"]);
  const basses = upTo(["inversion", "bass"]);
  const rest = others.filter((child) => !roots.includes(child) && !basses.includes(child));
  const stating = [...roots, listed, ...basses];
  const named = stating.map((piece) => withoutSpelledNames(stating, piece));
  const further = elementsOf(symbol).slice(elements.length);
  return withChildren(symbol, [...named, ...degrees, ...rest, ...further]);
}

/** With its root and bass as MusicXML has them. */
function spelledHarmony(harmony: XmlElement): XmlElement {
  const isOdd = (tone: XmlElement) =>
    (tone.name === "root" || tone.name === "bass") &&
    !LETTERS.includes((childText(tone, `${tone.name}-step`) ?? "C") as Letter);
  if (!elementsOf(harmony).some(isOdd)) return harmony;
  return withElements(harmony, (tone) => {
    const named = isOdd(tone) ? spelledOut(childText(tone, `${tone.name}-step`) ?? "") : undefined;
    if (named === undefined) return tone;
    const others = elementsOf(tone).filter(
      ({ name }) => name !== `${tone.name}-step` && (named.alter === 0 || name !== `${tone.name}-alter`),
    );
    const alter = named.alter === 0 ? [] : [element(`${tone.name}-alter`, {}, [named.alter])];
    return withChildren(tone, [element(`${tone.name}-step`, {}, [named.letter]), ...alter, ...others]);
  });
}
