import type { Place } from "../../diagnostics.js";
import { roundedBeat } from "../../song/beats.js";
import { firstWhere } from "../../song/in-time-order.js";
import type { Pitch } from "../../song/pitch.js";
import type { Meter } from "../../song/tune.js";
import type { XmlElement } from "../../xml/xml-tree.js";
import type { Quarters } from "./exact-time.js";
import { beatLength } from "./meter.js";
import type { TimedShift } from "./transposition.js";

/** A part with a time for everything in it. Times are quarter notes from the start of the part. */
export interface WalkedPart {
  readonly id: string;
  readonly name: string;
  readonly element: XmlElement;
  readonly measures: readonly WalkedMeasure[];
  /** Notes, rests and grace notes in the order of the file. */
  readonly notes: readonly WalkedNote[];
  /** `<harmony>` elements by time. */
  readonly harmonies: readonly WalkedItem[];
  /** `<direction>` and bare `<sound>` elements by time. */
  readonly directions: readonly WalkedItem[];
  /** `<attributes>` elements by time. */
  readonly attributes: readonly WalkedItem[];
  readonly barlines: readonly WalkedBarline[];
  readonly shifts: readonly TimedShift[];
  /** Staves drawn as TAB, or showing another staff's music a second time. */
  readonly copyStaves: ReadonlySet<string>;
  /** Staves beside the music: another way to play it (ossia, editorial), or what another part plays (cue). */
  readonly sideStaves: ReadonlySet<string>;
  readonly end: Quarters;
}

export interface WalkedMeasure {
  readonly element: XmlElement;
  readonly index: number;
  readonly label: string;
  readonly start: Quarters;
  readonly length: Quarters;
  readonly meter: Meter | undefined;
  /** What a bar that begins late lacks before its first note: 3 quarters for a pickup of one in 4/4. */
  readonly missing: Quarters;
}

export interface WalkedNote {
  readonly element: XmlElement;
  readonly measure: number;
  readonly at: Quarters;
  /** 0 for a grace note. */
  readonly length: Quarters;
  readonly voice: string;
  readonly staff: string;
  readonly kind: "note" | "rest" | "unpitched";
  readonly isGrace: boolean;
  /** Cue notes, hidden notes and the placeholders of slash notation take time but are no tune. */
  readonly isSilent: boolean;
  readonly startsTie: boolean;
  /** As written; the fraction of a quarter-tone accidental is still in `alter`. */
  readonly written: Pitch | undefined;
}

export interface WalkedItem {
  readonly at: Quarters;
  /** The measure it stands in, which an offset may lead out of. */
  readonly measure: number;
  readonly element: XmlElement;
}

export interface WalkedBarline extends WalkedItem {
  readonly location: "left" | "middle" | "right";
}

/** Whether a staff has music of the part that stands nowhere else in it. */
export const hasOwnMusic = (
  { copyStaves, sideStaves }: Pick<WalkedPart, "copyStaves" | "sideStaves">,
  staff: string,
): boolean => !copyStaves.has(staff) && !sideStaves.has(staff);

/** What stands in each measure, by its index, in the order it came in. */
export function byMeasure<Item extends { readonly measure: number }>(
  items: readonly Item[],
): ReadonlyMap<number, readonly Item[]> {
  const groups = new Map<number, Item[]>();
  for (const item of items) {
    const group = groups.get(item.measure);
    if (group === undefined) groups.set(item.measure, [item]);
    else group.push(item);
  }
  return groups;
}

/** The last measure that begins no later than a time; undefined where none does. */
export function measureAt({ measures }: WalkedPart, at: Quarters): WalkedMeasure | undefined {
  return measures[firstWhere(measures, ({ start }) => start.gt(at)) - 1];
}

/** Where something in a part is, in the words of a finding. */
export function placeIn(
  part: { readonly id: string },
  measure: Pick<WalkedMeasure, "index" | "label" | "start" | "meter">,
  at?: Quarters,
): Place {
  const ordinal = measure.index + 1;
  return {
    part: part.id,
    measure: ordinal,
    ...(measure.label === String(ordinal) || measure.label === "" ? {} : { measureLabel: measure.label }),
    ...(at === undefined ? {} : { beat: beatAt(measure, at) }),
  };
}

const beatAt = ({ start, meter }: Pick<WalkedMeasure, "start" | "meter">, at: Quarters): number =>
  roundedBeat(at.sub(start).div(beatLength(meter)).add(1).valueOf());
