import { parseChordText } from "../../harmony/chord-text.js";
import {
  attributeOf,
  childrenNamed,
  childText,
  element,
  textOf,
  type XmlElement,
} from "../../xml/xml-tree.js";
import type { WalkedItem, WalkedPart } from "../timeline/walked-part.js";
import type { ReadChord } from "./read-harmony.js";

/** Text above the staff that reads as a chord symbol, as written. */
export interface ChordWord extends WalkedItem {
  readonly chord: ReadChord;
}

/**
 * Chord symbols that were typed as text above the staff. Letters alone in alphabetical order are the
 * names of sections, not chords.
 */
export function chordWordsIn(part: WalkedPart): readonly ChordWord[] {
  const words = part.directions.flatMap((item): readonly ChordWord[] => {
    const text = wordsAbove(item.element);
    const chord = text === undefined || /^[A-G]o$/.test(text) ? undefined : parseChordText(text);
    return chord === undefined ? [] : [{ ...item, chord }];
  });
  const letters = words.map(({ element: direction }) => wordsAbove(direction) ?? "");
  const areSections = letters.every((text, index) => text === "ABCDEFG"[index]);
  return areSections ? [] : words;
}

function wordsAbove(direction: XmlElement): string | undefined {
  if (direction.name !== "direction" || attributeOf(direction, "placement") === "below") return undefined;
  const words = childrenNamed(direction, "direction-type").flatMap((type) => childrenNamed(type, "words"));
  const text = words.map(textOf).join("").trim();
  return text === "" ? undefined : text;
}

/** The `<harmony>` that says what the text says. */
export function harmonyFromWord({ element: direction, chord }: ChordWord): XmlElement {
  const staff = childText(direction, "staff");
  const after = staff === undefined ? [] : [element("staff", {}, [staff])];
  if (chord === "no-chord")
    return element("harmony", {}, [
      element("root", {}, [element("root-step", { text: "" }, ["C"])]),
      element("kind", { text: "N.C." }, ["none"]),
      ...after,
    ]);
  const alter = (name: string, value: number) => (value === 0 ? [] : [element(name, {}, [value])]);
  const { root, kind, degrees, bass } = chord;
  return element("harmony", {}, [
    element("root", {}, [element("root-step", {}, [root.letter]), ...alter("root-alter", root.alter)]),
    element("kind", {}, [kind]),
    ...(bass === undefined
      ? []
      : [element("bass", {}, [element("bass-step", {}, [bass.letter]), ...alter("bass-alter", bass.alter)])]),
    ...degrees.map((degree) =>
      element("degree", {}, [
        element("degree-value", {}, [degree.value]),
        element("degree-alter", {}, [degree.alter]),
        element("degree-type", {}, [degree.type]),
      ]),
    ),
    ...after,
  ]);
}
