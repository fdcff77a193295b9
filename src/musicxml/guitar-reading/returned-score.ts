import type { Digests } from "../../arrangement/measure-digests.js";
import { type Finding, Findings } from "../../diagnostics.js";
import type { GuitarScore } from "../../guitar/guitar-score.js";
import { PROGRAM } from "../../version.js";
import { indentationOf } from "../../xml/indentation.js";
import {
  childrenNamed,
  descendantAt,
  holdsNamed,
  textOf,
  withChildren,
  type XmlDocument,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { PARTS_OF_LAYOUT } from "../guitar-writing/staff-style.js";
import { isSung, TOP } from "../lead-sheet/sung-line.js";
import { withMarkOf } from "../round-trip/mark-score.js";
import { withoutOwnParts } from "../round-trip/own-parts.js";
import { type OwnMark, readDigests, readOwnField, withoutLeadOptions } from "../round-trip/provenance.js";
import { withoutStaves } from "../round-trip/without-staves.js";
import { partwiseProlog, partwiseScore } from "../timeline/partwise.js";
import { hasOwnMusic, type WalkedNote, type WalkedPart } from "../timeline/walked-part.js";
import { walkedParts } from "../timeline/walked-score.js";
import { type GuitarStaves, guitarStaves, type ScoreStaff } from "./guitar-staves.js";
import { readGuitarScore } from "./read-guitar-part.js";

/** A score with a guitar part that was written here before. */
export interface ReturnedScore {
  /** What is to be arranged: the score without that guitar part, where the tune stands elsewhere too. */
  readonly document: XmlDocument;
  readonly guitar: GuitarScore;
  /** Where it stands in the score that came. */
  readonly staves: GuitarStaves;
  /** The mark in the score; undefined where it was lost and the part was known by its music. */
  readonly mark: OwnMark | undefined;
  readonly digests: Digests | undefined;
}

/** Share of the tune that a guitar part must have on top to be known by its music alone. */
const SAME_TUNE = 0.75;

/**
 * Finds the guitar part that an earlier run wrote: by the mark in the score, and where that was lost by
 * its music, a TAB or fingered staff with chords that has the tune of another part on top. Where the lead
 * sheet had been dropped, that is known by the mark, or by the program's and the part's name.
 */
export function returnedScore(
  document: XmlDocument,
  melody: string,
  findings: Findings,
): ReturnedScore | undefined {
  const score = partwiseScore(document.root);
  const mark = readOwnField(score);
  // What is arranged for the first time has mostly neither.
  if (mark === undefined && !holdsNamed(score, "technical")) return undefined;
  const parts = walkedParts(score, new Findings());
  const staves = guitarStaves(parts, mark);
  if (staves === undefined || (mark === undefined && !isFingered(staves))) return undefined;
  const guitar = readGuitarScore(document.root, { melody }, new Findings());
  const own = ownParts(staves);
  const digests = readDigests(score);
  const isNamed = own.some(({ id }) => mark?.parts.includes(id));
  const beside = parts.map((part) => ({
    part,
    notes: part.notes.filter((note) => isBeside(note, part, staves)),
  }));
  const isSungBeside = beside.some(({ part, notes }) => notes.some(({ staff }) => hasOwnMusic(part, staff)));
  const isAnyBeside = beside.some(({ notes }) => notes.length > 0);
  // A lead sheet that was written over is another tune now, and no less the lead sheet; so is one in nothing but TAB.
  const isLeadApart = guitar.melody.source === "lead" || (isNamed && mark?.lead === "keep" && isAnyBeside);
  if (isLeadApart) {
    if (!isNamed && !(hasChords(guitar) && shareOfTune(guitar) >= SAME_TUNE)) return undefined;
    if (mark === undefined) findings.add(recognised(own));
    return {
      document: withoutGuitar(document, score, staves),
      guitar,
      staves,
      mark: mark && withoutLostMelody(mark, parts),
      digests,
    };
  }
  // The tune is the guitar's own upper voice: the reader takes it from there where the mark says so.
  if (staves.tab === undefined || (isSungBeside && !isNamed)) return undefined;
  if (!isNamed && !(isSoftwareNamed(score) && own.every(({ name }) => OWN_NAMES.includes(name))))
    return undefined;
  if (mark === undefined) findings.add(recognised(own));
  const options = withoutLeadOptions(mark?.options ?? {});
  const corrected: OwnMark = { parts: own.map(({ id }) => id), lead: "drop", options };
  const found = { guitar, staves, mark: mark && corrected, digests };
  if (mark?.lead === "drop" && mark.parts.join() === corrected.parts.join()) return { ...found, document };
  const root = withMarkOf(document.root, corrected, NOTHING_KNOWN, indentationOf(document.root));
  return { ...found, document: { ...document, root } };
}

/** The mark without a melody part that no part is called by any more. */
function withoutLostMelody(mark: OwnMark, parts: readonly WalkedPart[]): OwnMark {
  const { melody, ...options } = mark.options;
  if (typeof melody !== "string" || melody === TOP) return mark;
  const [part = melody] = melody.split(/:[^:]*$/);
  const isThere = parts.some(({ id, name }) =>
    [part, melody].some((asked) => id === asked.trim() || name.toLowerCase() === asked.trim().toLowerCase()),
  );
  return isThere ? mark : { ...mark, options };
}

const NOTHING_KNOWN: Digests = { melody: "", chords: "", guitar: "" };

const OWN_NAMES = Object.values(PARTS_OF_LAYOUT).flatMap((parts) => parts.map(({ name }) => name));

function isSoftwareNamed(score: XmlElement): boolean {
  const encoding = descendantAt(score, "identification", "encoding");
  return (
    encoding !== undefined &&
    childrenNamed(encoding, "software").some((software) => textOf(software).trim() === PROGRAM)
  );
}

const isFingered = ({ notation, tab }: GuitarStaves): boolean =>
  tab !== undefined || notation?.notes.some(({ finger }) => finger !== undefined) === true;

const hasChords = ({ notes }: GuitarScore): boolean =>
  notes.some((note, index) => note.kind === "note" && notes[index + 1]?.onset === note.onset);

function shareOfTune({ melody, notes }: GuitarScore): number {
  const attacks = new Set(notes.map(({ onset, midi }) => `${onset} ${midi}`));
  const shared = melody.notes.filter(({ onset, midi }) => attacks.has(`${onset} ${midi}`));
  return shared.length / Math.max(1, melody.notes.length);
}

const ownStaves = ({ notation, tab }: GuitarStaves): readonly ScoreStaff[] =>
  [notation, tab].filter((staff) => staff !== undefined);

const ownParts = (staves: GuitarStaves): readonly WalkedPart[] => [
  ...new Set(ownStaves(staves).map(({ part }) => part)),
];

/** The guitar's staves in a part. */
const numbersOf = (part: WalkedPart, staves: GuitarStaves): readonly string[] =>
  ownStaves(staves).flatMap((one) => (one.part === part ? [one.staff] : []));

/** Whether a note of a part is none of the guitar's. */
const isBeside = (note: WalkedNote, part: WalkedPart, staves: GuitarStaves): boolean =>
  isSung(note) && !numbersOf(part, staves).includes(note.staff);

const isGuitarAlone = (part: WalkedPart, staves: GuitarStaves): boolean =>
  part.notes.every(({ staff }) => numbersOf(part, staves).includes(staff));

/** The score without the guitar's parts; of a part that also holds the lead sheet, without its staves. */
function withoutGuitar(document: XmlDocument, score: XmlElement, staves: GuitarStaves): XmlDocument {
  const shared = new Map<XmlElement, readonly string[]>();
  const whole: string[] = [];
  for (const part of ownParts(staves)) {
    if (isGuitarAlone(part, staves)) whole.push(part.id);
    else shared.set(part.element, numbersOf(part, staves));
  }
  const rest = withoutOwnParts(score, { parts: whole, lead: "keep", options: {} });
  const root = withChildren(
    rest,
    rest.children.map((child) => {
      const gone = child.kind === "element" ? shared.get(child) : undefined;
      return child.kind === "element" && gone !== undefined ? withoutStaves(child, gone) : child;
    }),
  );
  return { ...document, prolog: partwiseProlog(document), root };
}

const recognised = (own: readonly WalkedPart[]): Finding => {
  const parts = own.map(({ id, name }) => (name === "" ? id : `${id} (${name})`)).join(", ");
  return {
    rule: "guitar-part-recognised",
    severity: "warning",
    place: {},
    found: `a guitar part that plays the tune, and no mark of where it came from: ${parts}`,
    expected: "the mark that was written with it",
    message: `${parts} plays the tune and was taken for a guitar part written here; what is in it is kept, with the options given.`,
    hint: "To have another guitar part written beside it, give the option edits with the value discard.",
  };
};
