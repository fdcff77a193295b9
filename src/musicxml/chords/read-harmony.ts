import type { Findings, Place } from "../../diagnostics.js";
import { spellDegree } from "../../harmony/chord-degree.js";
import { CHORD_KINDS } from "../../harmony/chord-kinds.js";
import { type ChordQuality, parseChordSuffix } from "../../harmony/chord-text.js";
import { degreesOf } from "../../harmony/chord-tones.js";
import type { ChordSymbol, DegreeChange } from "../../song/chord-symbol.js";
import { tonicOf } from "../../song/key-name.js";
import { LETTERS, type Letter, mod12, type PitchName } from "../../song/pitch.js";
import {
  attributeOf,
  childNamed,
  childText,
  elementsOf,
  textOf,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { numberFrom, numberIn } from "../numbers/read-number.js";
import { movedName, type Shift } from "../timeline/transposition.js";
import {
  degreeUnreadable,
  kindUnlisted,
  kindUnusable,
  romanNumeral,
  rootUnreadable,
  severalChords,
  textDisagrees,
} from "./harmony-findings.js";

/** A key as written, for Roman numerals. */
export interface WrittenKey {
  readonly fifths: number;
  readonly mode: "major" | "minor" | undefined;
}

/** A chord as it sounds, or the silence of the harmony under N.C. */
export type ReadChord = ChordSymbol | "no-chord";

/**
 * Reads one `<harmony>`. Value and degrees decide; printed text is used only where the kind is none of
 * MusicXML's. Undefined where it names no chord at all, which is said in a finding.
 */
export function readHarmony(
  harmony: XmlElement,
  shift: Shift,
  key: WrittenKey,
  place: Place,
  findings: Findings,
): ReadChord | undefined {
  const pieces = firstChord(elementsOf(harmony));
  if (pieces.isOneOfSeveral) findings.add(severalChords(place));
  const kindElement = pieces.elements.find((piece) => piece.name === "kind");
  const kind = kindElement === undefined ? "" : textOf(kindElement).trim();
  // Files must give N.C. a root too; it means nothing.
  if (kind === "none") return "no-chord";
  const root = rootOf(pieces.elements, key, place, findings);
  if (root === undefined) return undefined;
  const stated = degreesIn(pieces.elements, place, findings);
  const quality = qualityOf(kind, kindElement, stated, place, findings);
  const soundingRoot = movedName(root, shift);
  const bass = pieces.elements.find((piece) => piece.name === "bass");
  const bassName = bass === undefined ? undefined : stepName(bass, "bass");
  const symbol = { root: soundingRoot, ...quality, bass: undefined };
  return {
    ...symbol,
    bass: bassName === undefined ? invertedBass(symbol, pieces.elements) : movedName(bassName, shift),
  };
}

/** Whether a `<harmony>` says anything of a chord, N.C. included. */
export const namesChord = (harmony: XmlElement): boolean =>
  elementsOf(harmony).some((piece) => piece.name === "root" || piece.name === "numeral") ||
  childText(harmony, "kind") === "none";

const CHORD_STARTS = new Set(["root", "numeral", "function"]);

function firstChord(elements: readonly XmlElement[]): {
  readonly elements: readonly XmlElement[];
  readonly isOneOfSeveral: boolean;
} {
  const starts = elements.flatMap((piece, index) => (CHORD_STARTS.has(piece.name) ? [index] : []));
  const [, second] = starts;
  return second === undefined
    ? { elements, isOneOfSeveral: false }
    : { elements: elements.slice(0, second), isOneOfSeveral: true };
}

function rootOf(
  elements: readonly XmlElement[],
  key: WrittenKey,
  place: Place,
  findings: Findings,
): PitchName | undefined {
  const start = elements.find((piece) => CHORD_STARTS.has(piece.name));
  if (start === undefined) findings.add(rootUnreadable("", place));
  else if (start.name === "function") findings.add(romanNumeral(textOf(start).trim(), place));
  else if (start.name === "numeral") {
    const root = numeralRoot(start, key);
    if (root !== undefined) return root;
    findings.add(rootUnreadable(childText(start, "numeral-root") ?? "", place));
  } else {
    const root = stepName(start, "root");
    if (root !== undefined) return root;
    findings.add(rootUnreadable(childText(start, "root-step") ?? "", place));
  }
  return undefined;
}

function stepName(holder: XmlElement, prefix: "root" | "bass"): PitchName | undefined {
  const letter = childText(holder, `${prefix}-step`) ?? "";
  if (!LETTERS.includes(letter as Letter)) return undefined;
  const alter = Math.round(numberIn(holder, `${prefix}-alter`) ?? 0);
  return { letter: letter as Letter, alter };
}

/** The degree of the key's scale that a numeral names; its own `<numeral-key>` goes before the part's. */
function numeralRoot(numeral: XmlElement, key: WrittenKey): PitchName | undefined {
  const degree = numberIn(numeral, "numeral-root");
  if (degree === undefined) return undefined;
  const own = childNamed(numeral, "numeral-key");
  const fifths = (own && numberIn(own, "numeral-fifths")) ?? key.fifths;
  const mode = (own && childText(own, "numeral-mode")) ?? key.mode;
  const tonic = tonicOf(fifths, mode?.endsWith("minor") ? "minor" : "major");
  const letter = LETTERS[(LETTERS.indexOf(tonic.letter) + degree - 1) % 7] ?? "C";
  // How a key signature alters a letter: sharps come in the order F C G D A E B.
  const alterInKey = Math.floor((fifths + 6 - "FCGDAEB".indexOf(letter)) / 7);
  const alter = Math.round(numberIn(numeral, "numeral-alter") ?? 0);
  return { letter, alter: alterInKey + alter };
}

function degreesIn(
  elements: readonly XmlElement[],
  place: Place,
  findings: Findings,
): readonly DegreeChange[] {
  return elements.flatMap((piece): readonly DegreeChange[] => {
    if (piece.name !== "degree") return [];
    const value = numberIn(piece, "degree-value");
    const type = childText(piece, "degree-type") ?? "";
    const alter = numberFrom("degree-alter", childText(piece, "degree-alter") || "0");
    const isKnown = type === "add" || type === "alter" || type === "subtract";
    if (value === undefined || alter === undefined || !isKnown) {
      findings.add(degreeUnreadable(`${type} ${childText(piece, "degree-value") ?? ""}`.trim(), place));
      return [];
    }
    return [{ type, value, alter: Math.round(alter) }];
  });
}

function qualityOf(
  kind: string,
  kindElement: XmlElement | undefined,
  degrees: readonly DegreeChange[],
  place: Place,
  findings: Findings,
): ChordQuality {
  const printed = (kindElement && attributeOf(kindElement, "text"))?.trim() ?? "";
  const fromText = printed === "" ? undefined : parseChordSuffix(printed);
  if (Object.hasOwn(CHORD_KINDS, kind)) {
    if (fromText !== undefined && disagrees(fromText, { kind, degrees }))
      findings.add(textDisagrees(printed, kind, place));
    return { kind, degrees };
  }
  const quality =
    fromText ?? (kind === "" ? undefined : (parseChordSuffix(kind) ?? parseChordSuffix(inShort(kind))));
  if (quality === undefined) {
    findings.add(kindUnusable(kind, place));
    return { kind: "other", degrees: [{ type: "add", value: 5, alter: 0 }, ...degrees] };
  }
  findings.add(kindUnlisted(kind, wordsOf(quality), place));
  const isNew = (change: DegreeChange) => !quality.degrees.some((known) => known.value === change.value);
  return { kind: quality.kind, degrees: [...quality.degrees, ...degrees.filter(isNew)] };
}

/** Kinds written out in words that MusicXML does not have: "dominant-flat-ninth", "augmented-ninth", "maj69". */
const SHORT_FOR: Readonly<Record<string, string>> = {
  dominant: "",
  major: "maj",
  minor: "m",
  augmented: "+",
  diminished: "dim",
  half: "hdim",
  suspended: "sus",
  flat: "b",
  sharp: "#",
  second: "2",
  fourth: "4",
  fifth: "5",
  sixth: "6",
  seventh: "7",
  ninth: "9",
  eleventh: "11",
  thirteenth: "13",
};

function inShort(kind: string): string {
  const words = kind.toLowerCase().split(/[-_ ]+/);
  // "minor-major" leaves its seventh unsaid, "dominant-flat-ninth" too.
  const short = words.map((word) => SHORT_FOR[word] ?? word.replace(/^(\d+)(?:th|nd)$/, "$1"));
  if (words[0] === "minor" && words[1] === "major") return `m(maj${short.slice(2).join("") || "7"})`;
  if (words[0] === "half") return "hdim7";
  const joined = short.join("");
  return words[0] === "dominant" && /^[b#]/.test(joined) ? `7${joined}` : joined;
}

/** Printed text may name the degrees or leave them out; it disagrees only when neither way has its tones. */
function disagrees(printed: ChordQuality, stated: ChordQuality): boolean {
  const tones = ({ kind, degrees }: ChordQuality) =>
    degreesOf({ root: { letter: "C", alter: 0 }, kind, degrees, bass: undefined })
      .map(({ semitones }) => mod12(semitones))
      .sort((a, b) => a - b)
      .join();
  return tones(printed) !== tones(stated) && tones(printed) !== tones({ kind: stated.kind, degrees: [] });
}

const wordsOf = ({ kind, degrees }: ChordQuality): string =>
  [
    kind,
    ...degrees.map(({ type, value, alter }) => `${type} ${alter < 0 ? "b" : alter > 0 ? "#" : ""}${value}`),
  ].join(", ");

/** The bass that `<inversion>` alone asks for: the first is the third above the root, and so on. */
function invertedBass(symbol: ChordSymbol, elements: readonly XmlElement[]): PitchName | undefined {
  const inversion = elements.find((piece) => piece.name === "inversion");
  const number = inversion === undefined ? undefined : numberFrom("inversion", textOf(inversion));
  if (number === undefined || number < 1) return undefined;
  const degree = degreesOf(symbol)[number];
  return degree === undefined ? undefined : spellDegree(symbol.root, degree);
}
