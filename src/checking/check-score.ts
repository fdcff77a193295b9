import { type Finding, Findings } from "../diagnostics.js";
import type { GuitarScore } from "../guitar/guitar-score.js";
import { lastFretAbove } from "../guitar/instrument.js";
import { readGuitarScore } from "../musicxml/guitar-reading/read-guitar-part.js";
import { readOwnMark } from "../musicxml/round-trip/provenance.js";
import { partwiseScore } from "../musicxml/timeline/partwise.js";
import { instrumentFrom } from "../options/instrument-from-options.js";
import { completeOptions } from "../options/option-checking.js";
import type { ArrangeOptions, OptionFor } from "../options/options.js";
import { optionsInForce } from "../options/recorded-options.js";
import type { XmlDocument } from "../xml/xml-tree.js";
import { type CheckSummary, checkSummary } from "./check-summary.js";
import { judgedScore, type Measures } from "./judged-score.js";
import { RULES } from "./rules.js";

/**
 * Options that a check goes by. Tuning and capo count where the score states none; of a score that was written here, what
 * is left at its default is what that score was made with.
 */
export type CheckOptions = Pick<ArrangeOptions, OptionFor<"check">>;

/** A guitar score and what a hand has to say about it. */
export interface CheckedScore {
  readonly score: GuitarScore;
  readonly summary: CheckSummary;
  /** Everything worth saying, in the order of the score. */
  readonly findings: readonly Finding[];
}

/**
 * Reads a guitar score and judges whether a hand can play it: what cannot be done or is wrong is an
 * error, what is hard a warning, what is worth knowing a note. Nothing is written.
 *
 * @throws ScoreError where the score cannot be read or has no guitar part
 */
export function checkScore(
  document: XmlDocument,
  options: CheckOptions,
  findings: Findings = new Findings(),
): CheckedScore {
  const score = readGuitarScore(document.root, options, findings);
  const mark = readOwnMark(partwiseScore(document.root));
  const inForce =
    mark === undefined ? options : optionsInForce(completeOptions(options), { guitar: score, mark }).inForce;
  const judged = judgedScore(score, measuresFor(score, inForce));
  if (isNoGuitar(score)) findings.add(noGuitarPart());
  if (score.instrument.openStrings === undefined) findings.add(tuningAssumed(options.tuning));
  for (const rule of RULES) for (const finding of rule(judged)) findings.add(finding);
  const inOrder = findings.all.toSorted(byPlace);
  return { score, summary: checkSummary(judged, inOrder), findings: inOrder };
}

function measuresFor({ instrument }: GuitarScore, options: CheckOptions): Measures {
  const asked = instrumentFrom(options);
  const capo = instrument.capo ?? asked.capo;
  return {
    instrument: {
      ...asked,
      openStrings: instrument.openStrings ?? asked.openStrings,
      capo,
      frets: lastFretAbove(capo),
    },
    highestFretWanted: options.frets,
    shift: options.shift,
    tempo: options.tempo,
  };
}

/** Of fewer notes nobody can say what they are. */
const FEWEST_NOTES_OF_A_TUNE = 4;

/** Neither TAB nor fingers, and never two notes at once: a melody, for whatever it may be. */
const isNoGuitar = ({ layout, notes }: GuitarScore): boolean =>
  layout === "notation" &&
  notes.length >= FEWEST_NOTES_OF_A_TUNE &&
  notes.every(({ finger, onset }, index) => finger === undefined && notes[index + 1]?.onset !== onset);

const noGuitarPart = (): Finding => ({
  rule: "no-guitar-part",
  severity: "warning",
  place: {},
  found: "a score with one melody, and neither TAB nor fingers",
  expected: "a guitar part",
  message:
    "There is no guitar part in the score: no TAB, no fingers and no chords. Its melody was checked alone.",
  hint: "Arrange it first.",
});

const tuningAssumed = (tuning: string): Finding => ({
  rule: "tuning-assumed",
  severity: "note",
  place: {},
  found: "a score that states no tuning",
  expected: "a tuning",
  message: `The score states no tuning; ${tuning} was taken.`,
  hint: "Another one is given with the option tuning.",
});

/** What concerns the whole score first; rules keep their order at one place. */
const byPlace = ({ place: a }: Finding, { place: b }: Finding): number =>
  (a.measure ?? 0) - (b.measure ?? 0) || (a.beat ?? 0) - (b.beat ?? 0);
