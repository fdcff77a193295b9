import { CHORD_KINDS } from "../../harmony/chord-kinds.js";
import type { ChordSymbol } from "../../song/chord-symbol.js";
import type { PitchName } from "../../song/pitch.js";
import {
  attributeOf,
  childText,
  element,
  elementsOf,
  textOf,
  withAttribute,
  withChildren,
  withoutChildrenNamed,
  type XmlElement,
  type XmlNode,
} from "../../xml/xml-tree.js";
import { withoutSpelledNames } from "../chords/spelled-names.js";
import { numberIn } from "../numbers/read-number.js";
import { copiedElement } from "./copied-element.js";
import { movedStep } from "./moved-step.js";

/**
 * A chord symbol of the lead sheet for the guitar part: root and bass moved, everything it says of the
 * chord kept but printed names that are wrong there, a kind that MusicXML does not list replaced by the one it was
 * read as.
 *
 * @param intervals from root and bass as written to the guitar part's pitch
 * @param numeral a `<numeral>` for the guitar part
 * @param readAs what the symbol was read as, for kinds that are not listed
 */
export function harmonyElement(
  source: XmlElement,
  intervals: Readonly<Record<"root" | "bass", string>>,
  numeral: (written: XmlElement) => XmlElement,
  readAs: ChordSymbol | undefined,
): XmlElement {
  // A diagram of the lead sheet shows another grip, perhaps on another instrument.
  const copy = withoutChildrenNamed(copiedElement(source), "frame", "offset", "staff");
  const pieces = elementsOf(copy);
  const isMoved = intervals.root !== "1P" || intervals.bass !== "1P";
  const isKindListed = pieces.every((child) => child.name !== "kind" || isListed(child));
  const children = pieces
    .map((child) => (isMoved ? withoutSpelledNames(pieces, child) : child))
    .filter((child) => isKindListed || readAs === undefined || child.name !== "degree")
    .flatMap((child): readonly XmlElement[] => {
      if (child.name === "root" || child.name === "bass") return [movedTone(child, intervals[child.name])];
      if (child.name === "numeral") return [numeral(child)];
      if (child.name !== "kind" || isListed(child)) return [child];
      return [listedKind(child, readAs?.kind ?? "other"), ...(readAs?.degrees.map(degreeElement) ?? [])];
    });
  return withAttribute(withChildren(copy, inOrder(children)), "print-frame", undefined);
}

/** A chord symbol the lead sheet has as text only. */
export const harmonyFromSymbol = (symbol: ChordSymbol | undefined, moved: (name: PitchName) => PitchName) =>
  symbol === undefined
    ? element("harmony", {}, [
        // "none" must have a root, which means nothing.
        element("root", {}, [element("root-step", { text: "" }, ["C"])]),
        element("kind", { text: "N.C." }, ["none"]),
      ])
    : element("harmony", {}, [
        toneElement("root", moved(symbol.root)),
        element("kind", {}, [symbol.kind]),
        ...(symbol.bass === undefined ? [] : [toneElement("bass", moved(symbol.bass))]),
        ...symbol.degrees.map(degreeElement),
      ]);

const isListed = (kind: XmlElement): boolean => {
  const value = textOf(kind);
  return Object.hasOwn(CHORD_KINDS, value) || value === "none";
};

function listedKind(kind: XmlElement, value: string): XmlElement {
  const found = textOf(kind).trim();
  const shown = attributeOf(kind, "text") ?? (found === value ? undefined : found);
  return withAttribute(withChildren(kind, element("kind", {}, [value]).children), "text", shown);
}

/** `<root>` or `<bass>` with step and alter moved; as it stands where nothing moves. */
export function movedTone(tone: XmlElement, interval: string): XmlElement {
  if (interval === "1P") return tone;
  const step = childText(tone, `${tone.name}-step`);
  const alter = numberIn(tone, tone.name === "bass" ? "bass-alter" : "root-alter");
  const moved = movedStep(step ?? "", alter, interval);
  if (moved === undefined) return tone;
  const others = elementsOf(tone).filter((child) => child.name === "bass-separator");
  const isNoChord = elementsOf(tone).some((child) => attributeOf(child, "text") === "");
  const fresh = toneElement(tone.name, moved, isNoChord ? "" : undefined);
  return { ...tone, children: [...others, ...fresh.children] };
}

const toneElement = (name: string, { letter, alter }: PitchName, shown?: string): XmlElement =>
  element(name, {}, [
    element(`${name}-step`, { text: shown }, [letter]),
    ...(alter === 0 ? [] : [element(`${name}-alter`, {}, [alter])]),
  ]);

const degreeElement = ({ type, value, alter }: ChordSymbol["degrees"][number]): XmlElement =>
  element("degree", {}, [
    element("degree-value", {}, [value]),
    element("degree-alter", {}, [alter]),
    element("degree-type", {}, [type]),
  ]);

/** Degrees come after inversion and bass; the rest keeps its order. Several chords in one symbol keep theirs. */
function inOrder(children: readonly XmlElement[]): readonly XmlNode[] {
  const rank = ({ name }: XmlElement) =>
    name === "degree" ? 1 : ["footnote", "level"].includes(name) ? 2 : 0;
  const chords = children.filter(({ name }) => name === "kind").length;
  return chords > 1 ? children : children.toSorted((one, other) => rank(one) - rank(other));
}
