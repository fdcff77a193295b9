import type { Findings, Place } from "../../diagnostics.js";
import { spellDegree } from "../../harmony/chord-degree.js";
import { CHORD_KINDS } from "../../harmony/chord-kinds.js";
import { noteNamed } from "../../harmony/chord-names.js";
import { plainChordText } from "../../harmony/chord-signs.js";
import { type ChordQuality, parseChordSuffix, parseChordText } from "../../harmony/chord-text.js";
import { degreesOf } from "../../harmony/chord-tones.js";
import type { ChordSymbol, DegreeChange } from "../../song/chord-symbol.js";
import { tonicOf } from "../../song/key-name.js";
import { LETTERS, type Letter, mod12, nameOf, type PitchName } from "../../song/pitch.js";
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
  kindFromText,
  kindUnlisted,
  kindUnusable,
  noteNameSpelled,
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
  if (kind === "none" || parseChordText(kind) === "no-chord") return "no-chord";
  const root = rootOf(pieces.elements, key, place, findings);
  if (root === undefined) return undefined;
  const stated = degreesIn(pieces.elements, place, findings);
  const quality = qualityOf(kind, printedOf(pieces.elements), root, stated, place, findings);
  const soundingRoot = movedName(root, shift);
  const bass = pieces.elements.find((piece) => piece.name === "bass");
  const bassName = bass === undefined ? undefined : stepName(bass, "bass", place, findings);
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

/** What belongs to the first of several chords in one symbol; to the only one, all of it. */
export function firstChord(elements: readonly XmlElement[]): {
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
    const root = stepName(start, "root", place, findings);
    if (root !== undefined) return root;
    findings.add(rootUnreadable(childText(start, "root-step") ?? "", place));
  }
  return undefined;
}

/** Old files hold whole names where a letter belongs: "Bb", "f#", "H", "Es"; with an alteration beside it, that counts too. */
function stepName(
  holder: XmlElement,
  prefix: "root" | "bass",
  place: Place,
  findings: Findings,
): PitchName | undefined {
  const found = childText(holder, `${prefix}-step`) ?? "";
  const alter = Math.round(numberIn(holder, `${prefix}-alter`) ?? 0);
  if (LETTERS.includes(found as Letter)) return { letter: found as Letter, alter };
  const named = spelledOut(found);
  if (named === undefined) return undefined;
  const name = named.alter === 0 ? { ...named, alter } : named;
  findings.add(noteNameSpelled(found, nameOf(name), place));
  return name;
}

/** The note that a whole name in a letter's place means. */
export function spelledOut(found: string): PitchName | undefined {
  const text = plainChordText(found);
  return (
    noteNamed(text, { naming: "english", small: "capital" }) ??
    noteNamed(text, { naming: "german", small: "capital" })
  );
}

/** The degree of the key's scale that a numeral names; its own `<numeral-key>` goes before the part's. */
export function numeralRoot(numeral: XmlElement, key: WrittenKey): PitchName | undefined {
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

/** What is printed for a symbol beside its root: the text of its kind, or of its root where that has it all. */
function printedOf(elements: readonly XmlElement[]): string {
  const kind = elements.find(({ name }) => name === "kind");
  const step = elements.flatMap((piece) =>
    piece.name === "root" ? childNamed(piece, "root-step") : undefined,
  );
  const [root] = step.flatMap((found) =>
    found === undefined ? [] : [attributeOf(found, "text")?.trim() ?? ""],
  );
  const text = (kind && attributeOf(kind, "text"))?.trim() ?? "";
  return text === "" && root !== undefined && root.length > 1 ? root : text;
}

/** What printed text says of a chord, with its root before it or without. */
function qualityPrinted(printed: string, root: PitchName): ChordQuality | undefined {
  if (printed === "") return undefined;
  const whole = parseChordText(printed);
  if (whole !== undefined && whole !== "no-chord" && nameOf(whole.root) === nameOf(root)) return whole;
  return parseChordSuffix(printed);
}

function qualityOf(
  kind: string,
  printed: string,
  root: PitchName,
  degrees: readonly DegreeChange[],
  place: Place,
  findings: Findings,
): ChordQuality {
  const fromText = qualityPrinted(printed, root);
  // "other" without degrees states nothing at all.
  const isUnstated = kind === "other" && degrees.length === 0 && fromText !== undefined;
  if (Object.hasOwn(CHORD_KINDS, kind) && !isUnstated) {
    if (fromText !== undefined && disagrees(fromText, { kind, degrees }))
      findings.add(textDisagrees(printed, kind, place));
    return { kind, degrees };
  }
  const quality = fromText ?? (kind === "" ? undefined : kindInWords(kind));
  if (quality === undefined) {
    findings.add(kindUnusable(kind, place));
    return { kind: "other", degrees: [{ type: "add", value: 5, alter: 0 }, ...degrees] };
  }
  findings.add(
    isUnstated ? kindFromText(printed, wordsOf(quality), place) : kindUnlisted(kind, wordsOf(quality), place),
  );
  const isNew = (change: DegreeChange) => !quality.degrees.some((known) => known.value === change.value);
  return { kind: quality.kind, degrees: [...quality.degrees, ...degrees.filter(isNew)] };
}

/** A kind that old exporters write: in words where its first piece is one, else as it would be printed. */
function kindInWords(kind: string): ChordQuality | undefined {
  const inWords = parseChordSuffix(inShort(kind));
  const asPrinted = parseChordSuffix(kind);
  return Object.hasOwn(SHORT_FOR, piecesOfKind(kind)[0] ?? "")
    ? (inWords ?? asPrinted)
    : (asPrinted ?? inWords);
}

const piecesOfKind = (kind: string): readonly string[] =>
  kind
    .toLowerCase()
    .split(/[-_ ]+/)
    .filter((word) => word !== "triad" && word !== "chord");

/** Kinds written out in words that MusicXML does not have: "dominant-flat-ninth", "augmented-ninth", "maj69". */
const SHORT_FOR: Readonly<Record<string, string>> = {
  dominant: "",
  power: "5",
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
  const words = piecesOfKind(kind);
  // "minor-major" leaves its seventh unsaid, "dominant-flat-ninth" too.
  const short = words.map((word, index) =>
    word === "dominant" && index > 0 ? "7" : (SHORT_FOR[word] ?? word.replace(/^(\d+)(?:th|nd)$/, "$1")),
  );
  if (words[0] === "minor" && words[1] === "major") return `m(maj${short.slice(2).join("") || "7"})`;
  // A major triad with a minor seventh, as textbooks say it.
  if (words[0] === "major" && words[1] === "minor") return short.slice(2).join("") || "7";
  if (words[0] === "half") return "hdim7";
  const joined = short.join("");
  return words[0] === "dominant" && /^(?:[b#]|sus)/.test(joined) ? `7${joined}` : joined;
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
