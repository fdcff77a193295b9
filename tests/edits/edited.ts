import { type Arranged, arrangeScore } from "../../src/arrange-score.js";
import { Findings } from "../../src/diagnostics.js";
import { readGuitarScore } from "../../src/musicxml/guitar-reading/read-guitar-part.js";
import { completeOptions } from "../../src/options/option-checking.js";
import type { WishesFile } from "../../src/wishes/wishes-file.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import type { XmlDocument } from "../../src/xml/xml-tree.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import type { Change } from "./score-changes.js";

/** An arrangement, with what was said and what its text holds. */
export interface Made extends Arranged {
  readonly text: string;
  readonly attacks: readonly string[];
  /** Rule and place of what was said: "edit-kept 2:1". */
  readonly said: readonly string[];
  readonly messages: readonly string[];
}

export function made(document: XmlDocument, options: object = {}, wishes?: WishesFile): Made {
  const findings = new Findings();
  const arranged = arrangeScore(document, completeOptions(options), findings, wishes);
  const text = printXml(arranged.document);
  return {
    ...arranged,
    text,
    attacks: attacksIn(text),
    said: findings.all.map(({ rule, place }) =>
      place.measure === undefined
        ? rule
        : `${rule} ${place.measure}${place.beat === undefined ? "" : `:${place.beat}`}`,
    ),
    messages: findings.all.map(({ message }) => message),
  };
}

/** Every attack of the guitar as the file has it: "measure:beat length pitch string/fret-finger", by time. */
function attacksIn(text: string): readonly string[] {
  const score = readGuitarScore(parseXml(text).root, { melody: "auto" }, new Findings());
  return score.notes.map(({ measure, onset, length, midi, string, fret, finger }) => {
    const beat = 1 + (onset - (score.measures[measure]?.start ?? 0)) / score.ticksPerQuarter;
    return `${measure + 1}:${tidy(beat)} ${tidy(length / score.ticksPerQuarter)} ${midi} ${string}/${fret}-${finger}`;
  });
}

const tidy = (value: number): number => Math.round(value * 1000) / 1000;

/** A score that was written, changed and arranged again, against the one that was written. */
export interface Again extends Made {
  /** Attacks that are no more, and those that are new. */
  readonly gone: readonly string[];
  readonly come: readonly string[];
}

export function again(before: Made, change: Change, options: object = {}): Again {
  const after = made(changed(before, change), options);
  return {
    ...after,
    gone: before.attacks.filter((attack) => !after.attacks.includes(attack)),
    come: after.attacks.filter((attack) => !before.attacks.includes(attack)),
  };
}

/** The text is parsed anew: nothing but the file goes from one run to the next. */
export function changed(before: Made, change: Change): XmlDocument {
  const document = parseXml(before.text);
  return parseXml(printXml({ ...document, root: change(document.root) }));
}

/** A tune with a pickup, held chords, a chord change under a tied note and a rest. */
const TUNE = leadSheetFromText(`title: A Shelf of Jars
key: 0 major
time: 4/4
tempo: 100

G4/4 | [C] E5/2 D5/4 C5/4 | [Am7] C5/2 B4/8 A4/8 G4/4 | [Dm7] A4/2. [G7] F4/4 | [C] E4/2 r/4 G4/4 | [F] A4/2 [G7] B4/2~ | [Cmaj7] B4/2 [C] C5/2 ||`);

/** The tune with its guitar part: lead sheet P1, notation P2, TAB P3 where the options say nothing else. */
export const madeFrom = (options: object): Made => made(parseXml(TUNE), options);
