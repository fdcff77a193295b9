import type { Findings } from "../../diagnostics.js";
import { attributeOf, childrenNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { numberIn } from "../numbers/read-number.js";
import { missingBefore } from "./bar-lengths.js";
import { type Quarters, ZERO } from "./exact-time.js";
import { barLength } from "./meter.js";
import { ROUNDING } from "./note-length.js";
import type { NamedPart } from "./partwise.js";
import { barRepeated, barRestShortened, barTooLong, typesTrusted } from "./time-findings.js";
import { readShift, type TimedShift } from "./transposition.js";
import { type MeasureWalk, type Running, walkMeasure } from "./walk-measure.js";
import {
  placeIn,
  type WalkedBarline,
  type WalkedItem,
  type WalkedMeasure,
  type WalkedNote,
  type WalkedPart,
} from "./walked-part.js";

/** A TAB staff tunes its lines; a staff of fewer than four tuned lines is something else. */
const FEWEST_TAB_LINES = 4;

/**
 * Gives everything in a part its time, exactly. A measure lasts to the furthest point reached in it; an
 * empty one lasts its time signature.
 *
 * @throws ScoreError "divisions-missing", "duration-unreadable", "bar-too-long"
 */
export function walkPart(part: NamedPart, findings: Findings): WalkedPart {
  const measures: WalkedMeasure[] = [];
  const notes: WalkedNote[] = [];
  const harmonies: WalkedItem[] = [];
  const directions: WalkedItem[] = [];
  const attributes: WalkedItem[] = [];
  const barlines: WalkedBarline[] = [];
  let running: Running = { divisions: undefined, meter: undefined, isSlash: false, repeatedBars: undefined };
  let start = ZERO;

  childrenNamed(part.element, "measure").forEach((element, index) => {
    const label = (attributeOf(element, "number") ?? "").trim();
    const context = { part, index, label, start, findings };
    const walk = trustedWalk(element, running, context);
    running = walk.running;
    const { meter } = running;
    const nominal = meter === undefined ? undefined : barLength(meter);
    let length = walk.reached;
    if (length.n === 0n) length = nominal ?? measures.at(-1)?.length ?? FOUR_QUARTERS;
    if (length.gt(LONGEST_BAR)) throw barTooLong(length, LONGEST_BAR, placeIn(part, { ...context, meter }));
    const missing = missingBefore({ index, length, meter }, measures.at(-1));
    measures.push({ element, index, label, start, length, meter, missing });
    const repeated = repeatedMusic(walk, running.repeatedBars, measures, notes, harmonies);
    if (repeated !== undefined)
      findings.add(barRepeated(running.repeatedBars ?? 1, placeIn(part, { ...context, meter })));
    notes.push(...(repeated?.notes ?? walk.notes));
    harmonies.push(...(repeated?.harmonies ?? walk.harmonies));
    directions.push(...walk.directions);
    attributes.push(...walk.attributes);
    const end = start.add(length);
    for (const barline of walk.barlines)
      barlines.push({
        ...barline,
        at: barline.location === "left" ? start : barline.location === "right" ? end : barline.at,
      });
    start = end;
  });

  const byTime = (a: WalkedItem, b: WalkedItem) => a.at.compare(b.at);
  return {
    id: part.id,
    name: part.name,
    element: part.element,
    measures,
    notes,
    harmonies: harmonies.sort(byTime),
    directions: directions.sort(byTime),
    attributes,
    barlines,
    shifts: shiftsIn(attributes),
    copyStaves: copyStavesIn(attributes),
    sideStaves: sideStavesIn(attributes),
    end: start,
  };
}

/** Quarters in the longest bar that is read: a chant without bars, several times over. */
const LONGEST_BAR: Quarters = ZERO.add(1000);

/** Four quarters: a bar of which nothing at all is known. */
const FOUR_QUARTERS: Quarters = ZERO.add(4);

/** By durations; where those do not fill the bar but the note types do, by types, and a rest of the whole bar fills it. */
function trustedWalk(
  element: XmlElement,
  running: Running,
  context: Parameters<typeof walkMeasure>[2],
): MeasureWalk {
  const byDurations = walkMeasure(element, running, context, "durations");
  const { meter } = byDurations.running;
  if (meter === undefined) return byDurations;
  const nominal = barLength(meter);
  if (isBarRest(byDurations, nominal)) {
    context.findings.add(barRestShortened(nominal, placeIn(context.part, { ...context, meter })));
    const notes = byDurations.notes.map((rest) => ({ ...rest, length: nominal }));
    return { ...byDurations, notes, reached: nominal };
  }
  if (!byDurations.hasContradiction) return byDurations;
  if (byDurations.reached.sub(nominal).abs().lt(ROUNDING)) return byDurations;
  const byTypes = walkMeasure(element, running, context, "types");
  if (!byTypes.reached.equals(nominal)) return byDurations;
  context.findings.add(
    typesTrusted(byDurations.reached, byTypes.reached, placeIn(context.part, { ...context, meter })),
  );
  return byTypes;
}

/**
 * Whether nothing stands in a bar but whole rests, which are longer than it: the sign for a whole rest is that for a bar
 * of rest in any meter (common practice), and some programs write it out with a whole note's duration.
 */
const isBarRest = ({ notes, reached }: MeasureWalk, nominal: Quarters): boolean =>
  nominal.lt(FOUR_QUARTERS) &&
  reached.equals(FOUR_QUARTERS) &&
  notes.every(({ kind, element, length }) => {
    const type = childText(element, "type") ?? "whole";
    return kind === "rest" && length.equals(FOUR_QUARTERS) && type === "whole";
  });

/** The music of the bars before, moved here, for a bar that is empty under a bar-repeat sign. */
function repeatedMusic(
  walk: MeasureWalk,
  repeatedBars: number | undefined,
  measures: readonly WalkedMeasure[],
  notes: readonly WalkedNote[],
  harmonies: readonly WalkedItem[],
): Pick<MeasureWalk, "notes" | "harmonies"> | undefined {
  if (repeatedBars === undefined || walk.notes.some((note) => note.kind !== "rest")) return undefined;
  const here = measures.at(-1);
  const source = measures.at(-1 - repeatedBars);
  if (here === undefined || source === undefined || source === here) return undefined;
  const moved = <Item extends { readonly at: Quarters }>(item: Item): Item => ({
    ...item,
    measure: here.index,
    at: item.at.sub(source.start).add(here.start),
  });
  const repeatedNotes = notes.filter((note) => note.measure === source.index).map(moved);
  if (repeatedNotes.length === 0) return undefined;
  const ownHarmonies = walk.harmonies;
  return {
    notes: repeatedNotes,
    harmonies:
      ownHarmonies.length > 0
        ? ownHarmonies
        : harmonies.filter((harmony) => harmony.measure === source.index).map(moved),
  };
}

function shiftsIn(attributes: readonly WalkedItem[]): readonly TimedShift[] {
  return attributes.flatMap(({ at, element }) =>
    childrenNamed(element, "transpose").map((transpose) => readShift(transpose, at)),
  );
}

const staffOf = (holder: XmlElement): string => attributeOf(holder, "number")?.trim() || "1";

/** Types of staves (MusicXML 4.0, `staff-type`) that stand beside the music. */
const BESIDE: readonly (string | undefined)[] = ["ossia", "editorial", "cue"];

const sideStavesIn = (attributes: readonly WalkedItem[]): ReadonlySet<string> =>
  new Set(
    attributes
      .flatMap(({ element }) => childrenNamed(element, "staff-details"))
      .filter((details) => BESIDE.includes(childText(details, "staff-type")?.trim()))
      .map(staffOf),
  );

function copyStavesIn(attributes: readonly WalkedItem[]): ReadonlySet<string> {
  const staves = new Set<string>();
  for (const { element } of attributes) {
    for (const clef of childrenNamed(element, "clef"))
      if (childText(clef, "sign") === "TAB") staves.add(staffOf(clef));
    for (const details of childrenNamed(element, "staff-details"))
      if (
        childText(details, "staff-type") === "alternate" ||
        (childrenNamed(details, "staff-tuning").length >= FEWEST_TAB_LINES &&
          (numberIn(details, "staff-lines") ?? FEWEST_TAB_LINES) >= FEWEST_TAB_LINES)
      )
        staves.add(staffOf(details));
  }
  return staves;
}
