import Fraction from "fraction.js";
import {
  childNamed,
  childrenNamed,
  childText,
  element,
  elementsOf,
  withChildren,
  withElements,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { exactIn } from "../numbers/read-number.js";
import type { Quarters } from "../timeline/exact-time.js";
import { ROUNDING } from "../timeline/note-length.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";

/** Divisions of a quarter note by measure element, where each begins: stated, or inferred where nothing is. */
export type DivisionsAt = ReadonlyMap<XmlElement, Quarters>;

/** What the divisions of a part are where each measure begins. */
export function divisionsIn(part: WalkedPart): DivisionsAt {
  let running = statedFirst(part) ? undefined : inferredDivisions(part);
  const known = new Map<XmlElement, Quarters>();
  for (const { element: measure } of part.measures) {
    for (const child of elementsOf(measure)) {
      if (child.name === "note") break;
      if (child.name === "attributes") running = exactIn(child, "divisions") ?? running;
    }
    if (running !== undefined) known.set(measure, running);
    for (const attributes of childrenNamed(measure, "attributes"))
      running = exactIn(attributes, "divisions") ?? running;
  }
  return known;
}

/** The part with its divisions stated, and durations that say what was read. Other parts' notes stay. */
export function withMendedTimes(part: WalkedPart): ReadonlyMap<XmlElement, XmlElement> {
  const mended = new Map<XmlElement, XmlElement>();
  const divisions = divisionsIn(part);
  const lengths = new Map(part.notes.map((note) => [note.element, note]));
  const isStated = statedFirst(part);
  part.measures.forEach(({ element: measure }, index) => {
    const here = divisions.get(measure);
    if (here === undefined) return;
    const timed = withDurations(measure, here, lengths);
    const whole = index === 0 && !isStated ? withDivisions(timed, here) : timed;
    if (whole !== measure) mended.set(measure, whole);
  });
  return mended;
}

/** Whether divisions are stated before the first duration. */
function statedFirst({ measures }: WalkedPart): boolean {
  for (const { element: measure } of measures)
    for (const child of elementsOf(measure)) {
      if (child.name === "attributes" && exactIn(child, "divisions") !== undefined) return true;
      if (child.name === "note" && childText(child, "duration") !== undefined) return false;
    }
  return true;
}

/** What a note lasts in the file against what it was read as. */
function inferredDivisions({ notes }: WalkedPart): Quarters | undefined {
  for (const { element: note, length } of notes) {
    const duration = exactIn(note, "duration");
    const isPlain = childNamed(note, "time-modification") === undefined;
    if (duration !== undefined && duration.n > 0n && length.n > 0n && isPlain) return duration.div(length);
  }
  return undefined;
}

function withDivisions(measure: XmlElement, divisions: Quarters): XmlElement {
  const stated = element("divisions", {}, [divisions.toString()]);
  const own = childNamed(measure, "attributes");
  if (own === undefined)
    return withChildren(measure, [element("attributes", {}, [stated]), ...measure.children]);
  const isEditorial = ({ name }: XmlElement) => name === "footnote" || name === "level";
  const others = elementsOf(own);
  const whole = withChildren(own, [
    ...others.filter(isEditorial),
    stated,
    ...others.filter((one) => !isEditorial(one)),
  ]);
  return withElements(measure, (child) => (child === own ? whole : child));
}

/**
 * A measure whose durations say what its notes were read as. Left alone where a backup or forward counts on
 * the old ones, where divisions change within it, and where a length is no whole number of divisions.
 */
function withDurations(
  measure: XmlElement,
  divisions: Quarters,
  lengths: ReadonlyMap<XmlElement, WalkedNote>,
): XmlElement {
  const durations = new Map<XmlElement, string>();
  for (const child of elementsOf(measure)) {
    if (child.name === "backup" || child.name === "forward") return measure;
    const note = lengths.get(child);
    if (note === undefined || note.isGrace) continue;
    const stated = exactIn(child, "duration");
    if (stated?.div(divisions).sub(note.length).abs().lt(ROUNDING)) continue;
    const duration = note.length.mul(divisions);
    if (duration.d !== 1n || duration.n === 0n) return measure;
    durations.set(child, duration.toString());
  }
  const changes = childrenNamed(measure, "attributes").some((attributes) => {
    const other = exactIn(attributes, "divisions");
    return other !== undefined && !other.equals(new Fraction(divisions));
  });
  if (durations.size === 0 || changes) return measure;
  return withElements(measure, (child) => {
    const duration = durations.get(child);
    return duration === undefined ? child : withDuration(child, duration);
  });
}

/** What comes before a note's duration in the standard. */
const BEFORE_DURATION = new Set(["grace", "cue", "chord", "pitch", "unpitched", "rest"]);

function withDuration(note: XmlElement, value: string): XmlElement {
  const duration = element("duration", {}, [value]);
  if (childNamed(note, "duration") !== undefined)
    return withElements(note, (child) => (child.name === "duration" ? duration : child));
  const children = elementsOf(note);
  const before = children.filter(({ name }) => BEFORE_DURATION.has(name));
  return withChildren(note, [...before, duration, ...children.filter((child) => !before.includes(child))]);
}
