import type { Digests } from "../../arrangement/measure-digests.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  descendantAt,
  everyNamed,
  textOf,
  type XmlElement,
} from "../../xml/xml-tree.js";

/** Name of the score's miscellaneous field that says which parts were written here. */
export const OWN_MARK = "x-undervoice";

/** What a score that went through here before says about itself. */
export interface OwnMark {
  /** Ids of the guitar's parts: notation first, then TAB. */
  readonly parts: readonly string[];
  /** Whether the lead sheet's own parts are still beside the guitar. */
  readonly lead: "keep" | "drop";
  /** The options it was made with; those left at their default are not named. */
  readonly options: Readonly<Record<string, unknown>>;
}

/**
 * Reads the mark; undefined where there is none or it was damaged, and where none of the parts it names
 * has a TAB staff: then the score has since become something else, and all its parts are lead sheet.
 */
export function readOwnMark(score: XmlElement): OwnMark | undefined {
  const mark = readOwnField(score);
  if (mark === undefined) return undefined;
  const parts = childrenNamed(score, "part").filter((part) =>
    mark.parts.includes((attributeOf(part, "id") ?? "").trim()),
  );
  return parts.some(hasTabStaff) ? mark : undefined;
}

/**
 * Options without those that say where in the lead sheet its tune and its chords are: once it is gone, the guitar part
 * itself has both.
 */
export function withoutLeadOptions(
  options: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> {
  const { melody: _melody, chords: _chords, ...others } = options;
  return others;
}

/**
 * Whether a guitar part that stands alone was made from the voices of an ensemble: what it plays is what is left of them,
 * be it the tune alone.
 */
export const standsForEnsemble = (mark: OwnMark | undefined): boolean =>
  mark?.lead === "drop" && mark.options.texture === "voices";

/** The mark as it was left, whatever has become of the parts it names. */
export function readOwnField(score: XmlElement): OwnMark | undefined {
  const text = ownFieldText(score);
  return text === undefined ? undefined : markFrom(text);
}

/** What the guitar part was made from and what was written, where the mark says so. */
export function readDigests(score: XmlElement): Digests | undefined {
  const text = ownFieldText(score);
  const made = text === undefined ? undefined : recordIn(text)?.made;
  if (typeof made !== "object" || made === null) return undefined;
  const { melody, chords, guitar, marks } = made as Readonly<Record<string, unknown>>;
  return typeof melody === "string" && typeof chords === "string" && typeof guitar === "string"
    ? { melody, chords, guitar, ...(typeof marks === "string" ? { marks } : {}) }
    : undefined;
}

function ownFieldText(score: XmlElement): string | undefined {
  const miscellaneous = descendantAt(score, "identification", "miscellaneous");
  if (miscellaneous === undefined) return undefined;
  const field = childrenNamed(miscellaneous, "miscellaneous-field").find(isOwnField);
  return field === undefined ? undefined : textOf(field);
}

/** Whether a `<miscellaneous-field>` holds the mark. */
export const isOwnField = (field: XmlElement): boolean => attributeOf(field, "name") === OWN_MARK;

/** The mark as the text of its field. */
export const markText = ({ parts, lead, options }: OwnMark, made: Digests): string =>
  JSON.stringify({ parts, lead, options, made });

/** By its clef, or where that went with the first measure, by notes that have a string and a fret. */
function hasTabStaff(part: XmlElement): boolean {
  for (const clef of everyNamed(part, "clef")) {
    const sign = childNamed(clef, "sign");
    if (sign !== undefined && textOf(sign).trim() === "TAB") return true;
  }
  for (const technical of everyNamed(part, "technical"))
    if (childNamed(technical, "string") !== undefined && childNamed(technical, "fret") !== undefined)
      return true;
  return false;
}

function markFrom(json: string): OwnMark | undefined {
  const { parts, lead, options } = recordIn(json) ?? {};
  if (!Array.isArray(parts) || !parts.every((id) => typeof id === "string")) return undefined;
  const isRecord = typeof options === "object" && options !== null && !Array.isArray(options);
  return {
    parts,
    lead: lead === "drop" ? "drop" : "keep",
    options: isRecord ? (options as Readonly<Record<string, unknown>>) : {},
  };
}

function recordIn(json: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const value: unknown = JSON.parse(json);
    return typeof value === "object" && value !== null
      ? (value as Readonly<Record<string, unknown>>)
      : undefined;
  } catch {
    return undefined;
  }
}
