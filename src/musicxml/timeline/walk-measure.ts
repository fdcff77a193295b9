import Fraction from "fraction.js";
import type { Findings } from "../../diagnostics.js";
import { LETTERS, type Letter, type Pitch } from "../../song/pitch.js";
import type { Meter } from "../../song/tune.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  elementsOf,
  textOf,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { exactIn, exactNumber, numberFrom, numberIn } from "../numbers/read-number.js";
import { later, type Quarters, ZERO } from "./exact-time.js";
import { barLength, readMeter } from "./meter.js";
import { lengthByType, lengthOf, quartersOf, ROUNDING } from "./note-length.js";
import {
  chordNoteAlone,
  divisionsInferred,
  divisionsMissing,
  durationMissing,
  durationUnreadable,
  offsetTooFar,
} from "./time-findings.js";
import { placeIn, type WalkedBarline, type WalkedItem, type WalkedNote } from "./walked-part.js";
import { WalkedPoints } from "./walked-points.js";

/** What one measure hands on to the next. */
export interface Running {
  readonly divisions: Quarters | undefined;
  readonly meter: Meter | undefined;
  /** Whether slash notation is on. */
  readonly isSlash: boolean;
  /** Bars that a bar-repeat sign repeats, while one is on. */
  readonly repeatedBars: number | undefined;
}

/** One measure with times from the start of the part. */
export interface MeasureWalk {
  readonly notes: readonly WalkedNote[];
  readonly harmonies: readonly WalkedItem[];
  readonly directions: readonly WalkedItem[];
  readonly attributes: readonly WalkedItem[];
  readonly barlines: readonly WalkedBarline[];
  /** The furthest point reached, measured from the start of the measure. */
  readonly reached: Quarters;
  /** Some note's duration and type disagree by more than rounding. */
  readonly hasContradiction: boolean;
  readonly running: Running;
}

/** Quarters from where something stands to where it counts: a few bars at most. */
const FARTHEST_OFFSET = 64;

interface Context {
  readonly part: { readonly id: string; readonly element: XmlElement };
  readonly index: number;
  readonly label: string;
  readonly start: Quarters;
  readonly findings: Findings;
}

/**
 * Moves through a measure as the file lays it out: notes and forwards move the cursor, backups move it
 * back, everything else stands where the cursor (and its offset) is. `trust` says what a note's length
 * is taken from where its duration and its type disagree.
 */
export function walkMeasure(
  measure: XmlElement,
  before: Running,
  context: Context,
  trust: "durations" | "types",
): MeasureWalk {
  const { findings, start } = context;
  const notes: WalkedNote[] = [];
  const harmonies: WalkedItem[] = [];
  const directions: WalkedItem[] = [];
  const attributes: WalkedItem[] = [];
  const barlines: WalkedBarline[] = [];
  let running = before;
  let cursor = ZERO;
  // The same walk by durations alone: backups are written against it.
  let byDurations = ZERO;
  const points = new WalkedPoints();
  let reached = ZERO;
  let lastStart: Quarters | undefined;
  let hasContradiction = false;

  const place = () => placeIn(context.part, { ...context, meter: running.meter }, start.add(cursor));
  const divisionsHere = (): Quarters => {
    if (running.divisions !== undefined) return running.divisions;
    const { element } = context.part;
    const byType = divisionsByType(element, running.meter);
    const inferred = byType ?? divisionsByBars(element, running.meter);
    if (inferred === undefined) throw divisionsMissing(place());
    findings.add(divisionsInferred(inferred, byType === undefined ? "bars" : "type", place()));
    running = { ...running, divisions: inferred };
    return inferred;
  };
  const durationOf = (holder: XmlElement): Quarters | undefined => {
    const text = childText(holder, "duration");
    if (text === undefined) return undefined;
    const duration = exactNumber("duration", text);
    if (duration === undefined) throw durationUnreadable(text, place());
    return duration;
  };
  const offsetOf = (holder: XmlElement): Quarters => {
    const offset = exactIn(holder, "offset");
    if (offset === undefined || offset.n === 0n) return ZERO;
    const distance = quartersOf(offset, divisionsHere());
    if (distance.abs().lte(FARTHEST_OFFSET)) return distance;
    findings.add(offsetTooFar(distance, place()));
    return ZERO;
  };
  const moveTo = (target: Quarters) => {
    byDurations = target.s < 0n ? ZERO : target;
    cursor = points.at(byDurations);
    reached = later(reached, cursor);
  };

  for (const child of elementsOf(measure)) {
    switch (child.name) {
      case "attributes":
        running = readRunning(child, running);
        attributes.push({ at: start.add(cursor), measure: context.index, element: child });
        break;
      case "note": {
        const isGrace = childNamed(child, "grace") !== undefined;
        const isChord = childNamed(child, "chord") !== undefined;
        const duration = isGrace ? ZERO : durationOf(child);
        const byType = isGrace ? ZERO : lengthByType(child);
        let length = ZERO;
        let plain = ZERO;
        if (duration === undefined) {
          length = plain = byType ?? ZERO;
          findings.add(durationMissing(length, place()));
        } else if (duration.n !== 0n) {
          plain = quartersOf(duration, divisionsHere());
          length = lengthOf(child, duration, divisionsHere());
          if (byType?.sub(length).abs().gte(ROUNDING)) hasContradiction = true;
          if (trust === "types" && byType !== undefined) length = byType;
        }
        if (isChord && lastStart === undefined) findings.add(chordNoteAlone(place()));
        const sharesStem = isChord && lastStart !== undefined;
        const at: Quarters = sharesStem ? (lastStart ?? cursor) : cursor;
        if (!sharesStem) {
          lastStart = cursor;
          cursor = cursor.add(length);
          byDurations = byDurations.add(plain);
          points.add(byDurations, cursor);
          reached = later(reached, cursor);
        }
        notes.push(walkedNote(child, start.add(at), length, isGrace, running.isSlash, context.index));
        break;
      }
      case "backup":
        moveTo(byDurations.sub(quartersOf(durationOf(child) ?? ZERO, divisionsHere())));
        break;
      case "forward":
        moveTo(byDurations.add(quartersOf(durationOf(child) ?? ZERO, divisionsHere())));
        points.add(byDurations, cursor);
        break;
      case "harmony":
        harmonies.push({
          at: start.add(cursor).add(offsetOf(child)),
          measure: context.index,
          element: child,
        });
        break;
      case "direction":
      case "sound":
        directions.push({
          at: start.add(cursor).add(offsetOf(child)),
          measure: context.index,
          element: child,
        });
        break;
      case "barline": {
        const location = attributeOf(child, "location");
        barlines.push({
          at: start.add(cursor),
          measure: context.index,
          element: child,
          location: location === "left" || location === "middle" ? location : "right",
        });
        break;
      }
    }
  }
  return { notes, harmonies, directions, attributes, barlines, reached, hasContradiction, running };
}

function readRunning(attributes: XmlElement, before: Running): Running {
  let { divisions, meter, isSlash, repeatedBars } = before;
  divisions = exactIn(attributes, "divisions") ?? divisions;
  const time = childNamed(attributes, "time");
  if (time !== undefined) meter = readMeter(time);
  for (const style of childrenNamed(attributes, "measure-style")) {
    const slash = childNamed(style, "slash");
    if (slash !== undefined) isSlash = attributeOf(slash, "type") === "start";
    const repeat = childNamed(style, "measure-repeat");
    if (repeat !== undefined)
      repeatedBars =
        attributeOf(repeat, "type") === "start"
          ? (numberFrom("measure-repeat", textOf(repeat)) ?? 1)
          : undefined;
  }
  return { divisions, meter, isSlash, repeatedBars };
}

/** Divisions from the first note whose type is known, or from a whole-bar rest under a time signature. */
function divisionsByType(part: XmlElement, meter: Meter | undefined): Quarters | undefined {
  for (const measure of childrenNamed(part, "measure"))
    for (const note of childrenNamed(measure, "note")) {
      const duration = exactIn(note, "duration");
      if (duration === undefined || duration.n === 0n) continue;
      const rest = childNamed(note, "rest");
      const isWholeBar = rest !== undefined && attributeOf(rest, "measure") === "yes";
      const length =
        isWholeBar && meter !== undefined
          ? new Fraction(4 * meter.beats, meter.beatType)
          : lengthByType(note);
      if (length !== undefined) return duration.div(length);
    }
  return undefined;
}

/** Divisions from what most bars hold, where half of them or more hold the same and a time signature says how much that is. */
function divisionsByBars(part: XmlElement, meter: Meter | undefined): Quarters | undefined {
  if (meter === undefined) return undefined;
  const counts = new Map<string, number>();
  const measures = childrenNamed(part, "measure");
  for (const measure of measures) {
    let sum = ZERO;
    for (const child of elementsOf(measure)) {
      if (child.name === "backup") break;
      if (child.name !== "note" && child.name !== "forward") continue;
      if (childNamed(child, "chord") === undefined) sum = sum.add(exactIn(child, "duration") ?? ZERO);
    }
    const total = sum.toFraction();
    counts.set(total, (counts.get(total) ?? 0) + 1);
  }
  const [usual] = [...counts].sort(([, one], [, other]) => other - one);
  if (usual === undefined || usual[0] === "0" || usual[1] * 2 < measures.length) return undefined;
  return new Fraction(usual[0]).div(barLength(meter));
}

function walkedNote(
  note: XmlElement,
  at: Quarters,
  length: Quarters,
  isGrace: boolean,
  isSlash: boolean,
  measure: number,
): WalkedNote {
  const written = writtenPitch(note);
  const isSlashHead = childText(note, "notehead") === "slash";
  return {
    element: note,
    measure,
    at,
    length,
    voice: childText(note, "voice") || "1",
    staff: childText(note, "staff") || "1",
    kind: written !== undefined ? "note" : childNamed(note, "rest") !== undefined ? "rest" : "unpitched",
    isGrace,
    isSilent:
      childNamed(note, "cue") !== undefined ||
      attributeOf(note, "print-object") === "no" ||
      isSlash ||
      isSlashHead,
    startsTie: startsTie(note),
    written,
  };
}

/** Whether a `<note>` says, by sound or by sign, that a tie begins on it. */
export const startsTie = (note: XmlElement): boolean =>
  childrenNamed(note, "tie").some(isStart) ||
  childrenNamed(note, "notations").some((notations) => childrenNamed(notations, "tied").some(isStart));

const isStart = (tie: XmlElement): boolean => attributeOf(tie, "type") === "start";

function writtenPitch(note: XmlElement): Pitch | undefined {
  const pitch = childNamed(note, "pitch");
  if (pitch === undefined) return undefined;
  const letter = childText(pitch, "step") ?? "";
  const octave = numberIn(pitch, "octave");
  if (!LETTERS.includes(letter as Letter) || octave === undefined) return undefined;
  const alter = numberIn(pitch, "alter") ?? 0;
  return { letter: letter as Letter, alter, octave };
}
