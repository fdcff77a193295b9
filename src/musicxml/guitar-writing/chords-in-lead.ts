import Fraction from "fraction.js";
import { type Finding, Findings } from "../../diagnostics.js";
import { indentationOf } from "../../xml/indentation.js";
import { attributeOf, holdsNamed, withElements, type XmlElement } from "../../xml/xml-tree.js";
import type { LeadSheet } from "../lead-sheet/lead-sheet.js";
import { transpositionInForce } from "../lead-sheet/transposition-in-force.js";
import { divisionsIn } from "../mending/mended-times.js";
import { anchorFor, isDecimal, withSymbol } from "../mending/symbol-at-time.js";
import { movedName } from "../timeline/transposition.js";
import { byMeasure } from "../timeline/walked-part.js";
import { walkedParts } from "../timeline/walked-score.js";
import { areChordsWorkedOut } from "./chord-symbols.js";
import { harmonyFromSymbol } from "./harmony-element.js";

/**
 * The score with chords that were worked out from its voices as chord symbols in the tune's part, written as that
 * part is: where it transposes, so do they. As it was where that part has symbols of its own, or where the chords come
 * from the score. Each stands before the note that it begins with, or, with an offset, before the one it begins in.
 */
export function withChordsInLead(score: XmlElement, sheet: LeadSheet): XmlElement {
  const { tune, source } = sheet;
  if (!areChordsWorkedOut(sheet) || hasSymbols(score, sheet)) return score;
  const part = walkedParts(score, new Findings()).find(({ id }) => id === source.melodyPartId);
  if (part === undefined) return score;
  const chords = byMeasure(tune.chords);
  const notes = byMeasure(part.notes.filter(({ staff }) => staff === source.staff));
  const divisions = divisionsIn(part);
  const indentation = indentationOf(score);
  const changed = new Map<XmlElement, XmlElement>();
  for (const { element: measure, index } of part.measures)
    for (const { start, symbol } of chords.get(index) ?? []) {
      const at = new Fraction(start, tune.ticksPerQuarter);
      const anchor = anchorFor(notes.get(index) ?? [], at, divisions.get(measure));
      if (!isDecimal(anchor.offset)) continue;
      const { diatonic, chromatic } = transpositionInForce(source, start);
      const written = harmonyFromSymbol(symbol, (name) =>
        movedName(name, { diatonic: -diatonic, chromatic: -chromatic }),
      );
      changed.set(
        measure,
        withSymbol(changed.get(measure) ?? measure, written, anchor, measure, indentation),
      );
    }
  return withElements(score, (child) =>
    child.name === "part" ? withElements(child, (measure) => changed.get(measure) ?? measure) : child,
  );
}

/** Says where worked-out chords were asked for in the tune's part and did not come into it; undefined elsewhere. */
export function chordsNotInLead(sheet: LeadSheet): Finding | undefined {
  const { score, melodyPartId } = sheet.source;
  if (!areChordsWorkedOut(sheet) || !hasSymbols(score, sheet)) return undefined;
  return {
    rule: "lead-chords-there",
    severity: "note",
    place: { part: melodyPartId },
    found: "a part with chord symbols of its own",
    expected: "a part without",
    message: `Part ${melodyPartId} has chord symbols of its own, so those worked out from the voices stand over the guitar only.`,
    hint: "Take the symbols out of the part in your notation program where you want the others.",
  };
}

const hasSymbols = (score: XmlElement, { source }: LeadSheet): boolean =>
  score.children.some(
    (part) =>
      part.kind === "element" &&
      attributeOf(part, "id") === source.melodyPartId &&
      part.name === "part" &&
      holdsNamed(part, "harmony"),
  );
