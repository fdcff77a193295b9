import { type Finding, Findings } from "../../diagnostics.js";
import type { ArrangeOptions } from "../../options/options.js";
import { indentationOf } from "../../xml/indentation.js";
import { withElements, type XmlDocument, type XmlElement } from "../../xml/xml-tree.js";
import { placeHarmonies } from "../chords/chord-spans.js";
import { harmonySource } from "../chords/harmony-source.js";
import { keyAt, writtenKeys } from "../chords/keys.js";
import { chooseMelody } from "../lead-sheet/choose-melody.js";
import { readLeadSheet } from "../lead-sheet/read-lead-sheet.js";
import { withOneTune } from "../lead-sheet/several-tunes.js";
import { readOwnMark } from "../round-trip/provenance.js";
import { partwiseProlog, partwiseScore } from "../timeline/partwise.js";
import { walkedParts } from "../timeline/walked-score.js";
import { withMendedChords } from "./mended-chords.js";
import { withMendedTimes } from "./mended-times.js";

/** A lead sheet that says outright what it was read as. */
export interface MendedScore {
  readonly document: XmlDocument;
  /** What was said of the score as it came and is true of it no more. */
  readonly mended: readonly Finding[];
  /** What is still to be said of it. */
  readonly left: readonly Finding[];
}

/** Options that a mended score goes by. */
export type MendOptions = Pick<ArrangeOptions, "melody" | "chordNames" | "tune">;

/**
 * Writes into a lead sheet what it was read as: typed chords as chord symbols, chords of a shared beat on
 * beats of their own, chord kinds and roots as MusicXML has them, missing divisions, durations that fill the
 * bar. Everything else stays as it came. Reading what comes out gives the same tune. Pure.
 *
 * @param before what was found odd in the file itself, and is mended by writing it anew
 * @throws ScoreError where the score holds no tune
 */
export function mendScore(
  score: XmlDocument,
  options: MendOptions,
  before: readonly Finding[] = [],
): MendedScore {
  const found = new Findings();
  const one = withOneTune(score, options.tune, found);
  readLeadSheet(one.root, options, found);
  const document: XmlDocument = { ...one, prolog: partwiseProlog(one), root: mendedRoot(one.root, options) };
  const after = new Findings();
  readLeadSheet(document.root, options, after);
  const isSame = (a: Finding, b: Finding) =>
    a.rule === b.rule && a.message === b.message && a.place.measure === b.place.measure;
  const [mended, left] = [
    found.all.filter((finding) => !after.all.some((other) => isSame(finding, other))),
    after.all,
  ];
  return { document, mended: [...before, ...mended], left };
}

function mendedRoot(root: XmlElement, options: MendOptions): XmlElement {
  const score = partwiseScore(root);
  const silent = new Findings();
  const mark = readOwnMark(score);
  const parts = walkedParts(score, silent);
  const { part } = chooseMelody(parts, options.melody, mark, silent);
  const own = new Set(mark?.lead === "keep" ? mark.parts : []);
  const source = harmonySource(parts, part, own, options.chordNames, silent);
  const keys = writtenKeys(source.part, "1", silent);
  const placed = placeHarmonies(source.items, source.part, source.part, (at) => keyAt(keys, at), silent);
  const measures = new Map(parts.flatMap((one) => [...withMendedTimes(one)]));
  const mended = withMendedChords(source, placed, measures, indentationOf(score));
  if (mended.size === 0) return score;
  return withElements(score, (child) =>
    child.name === "part" ? withElements(child, (measure) => mended.get(measure) ?? measure) : child,
  );
}
