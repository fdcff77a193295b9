import type { Plucked } from "../../arrangement/plucked-strings.js";
import { element, elementsOf, withChildren, type XmlElement } from "../../xml/xml-tree.js";
import type { MeasurePlan } from "./measure-plan.js";
import { noteElements, staffElement } from "./note-element.js";
import type { ShownFingers } from "./shown-fingers.js";
import type { StaffStyle } from "./staff-style.js";
import type { VoiceItem } from "./voice-item.js";

/** What stands between notes at a time: signs above the staff, chord symbols, changes of key or barline. */
export interface Between {
  readonly at: number;
  readonly element: XmlElement;
}

/** What all notes of a part are written by. */
export interface Writing {
  readonly partId: string;
  readonly ticksPerDivision: number;
  /** Whose fingers are printed, by time. */
  readonly shownFingers: ReadonlyMap<number, ShownFingers>;
  /** Right-hand fingers that are printed, by time. */
  readonly plucked: ReadonlyMap<number, readonly Plucked[]>;
  /** Whether the words of the song stand under this part. */
  readonly hasLyrics: boolean;
}

/** One staff's music of a measure: voice 1 with what stands between its notes, then voice 2. */
export function staffMusic(
  plan: MeasurePlan,
  style: StaffStyle,
  between: readonly Between[],
  writing: Writing,
): readonly XmlElement[] {
  const deferred = new Set(between.filter((one) => isBetterInSecondVoice(one, plan)));
  const first = voiceMusic(
    plan,
    plan.first,
    style,
    between.filter((one) => !deferred.has(one)),
    writing,
  );
  if (plan.second.length === 0) return first;
  return [
    ...first,
    element("backup", {}, [element("duration", {}, [plan.measure.length / writing.ticksPerDivision])]),
    ...voiceMusic(plan, plan.second, style, [...deferred], writing),
  ];
}

/**
 * A chord symbol or sign in the middle of a melody note stands before the note of voice 2 that is struck
 * with it: programs that overlook `<offset>` then still show it in its place.
 */
function isBetterInSecondVoice({ at, element: { name } }: Between, { first, second }: MeasurePlan): boolean {
  if (name !== "harmony" && name !== "direction") return false;
  const isIn = (items: readonly VoiceItem[]) => items.some((item) => item.at === at && item.kind !== "gap");
  const isInside = first.some((item) => item.at < at && at < item.at + item.length);
  return isInside && isIn(second) && !isIn(first);
}

const NOTHING: readonly XmlElement[] = [];

function voiceMusic(
  plan: MeasurePlan,
  items: readonly VoiceItem[],
  style: StaffStyle,
  between: readonly Between[],
  writing: Writing,
): readonly XmlElement[] {
  const isSecond = items === plan.second;
  const voice = style.melodyVoice + (isSecond ? 1 : 0);
  const { ticksPerDivision } = writing;
  let notes = 0;
  // The same whenever the same measure is written again.
  const nextId = () => {
    notes += 1;
    return `${writing.partId}m${plan.measure.index + 1}v${voice}n${notes}`;
  };
  const waiting = [...between];
  const before = (at: number, end: number): readonly XmlElement[] => {
    if (waiting.length === 0) return NOTHING;
    const ready = waiting.filter((one) => one.at <= at || (one.at < end && canBeOffset(one.element)));
    for (const one of ready) waiting.splice(waiting.indexOf(one), 1);
    return ready.map((one) => placed(one, at, style, ticksPerDivision));
  };
  const music = items.flatMap((item) => [
    // Grace notes come before everything that belongs to the beat they lead to.
    ...(item.kind === "grace" ? [] : before(item.at, item.at + item.length)),
    ...itemElements(plan, item, style, voice, writing, nextId),
  ]);
  const end = plan.measure.start + plan.measure.length;
  return [...music, ...waiting.map((one) => placed(one, end, style, ticksPerDivision))];
}

function itemElements(
  plan: MeasurePlan,
  item: VoiceItem,
  style: StaffStyle,
  voice: number,
  { ticksPerDivision, shownFingers, plucked, hasLyrics }: Writing,
  nextId: () => string,
): readonly XmlElement[] {
  if (item.kind === "gap")
    return [
      element("forward", {}, [
        element("duration", {}, [item.length / ticksPerDivision]),
        element("voice", {}, [voice]),
        ...staffElement(style),
      ]),
    ];
  const isSecond = voice !== style.melodyVoice;
  return noteElements(item, {
    style,
    voice,
    stem: plan.second.length === 0 ? undefined : isSecond ? "down" : "up",
    ticksPerDivision,
    accidentals: plan.accidentals,
    beams: plan.beams.get(item) ?? [],
    tuplets: plan.tuplets.get(item) ?? [],
    lead: plan.leads.get(item),
    hasLyrics,
    fingerSide: plan.second.length === 0 ? undefined : isSecond ? "below" : "above",
    shownFingers: shownFingers.get(item.at) ?? "all",
    plucked: item.kind === "grace" ? [] : (plucked.get(item.at) ?? []),
    nextId,
  });
}

const canBeOffset = ({ name }: XmlElement): boolean => ["harmony", "direction", "sound"].includes(name);

/** What stands before `<offset>`, and what between it and `<staff>`. */
const BEFORE_OFFSET = [
  "direction-type",
  "root",
  "numeral",
  "function",
  "kind",
  "inversion",
  "bass",
  "degree",
  "frame",
  "swing",
];
const BEFORE_STAFF = ["footnote", "level", "voice"];

/** With its distance from the place it stands at, where that is not its time, and the number of its staff. */
export function placed(
  { at, element: one }: Between,
  here: number,
  style: StaffStyle,
  ticksPerDivision: number,
): XmlElement {
  if (!canBeOffset(one)) return one;
  const offset = at - here;
  const staff = one.name === "sound" ? [] : staffElement(style);
  if (offset === 0 && staff.length === 0) return one;
  const children = elementsOf(one);
  const rest = children.filter(({ name }) => !BEFORE_OFFSET.includes(name));
  return withChildren(one, [
    ...children.filter(({ name }) => BEFORE_OFFSET.includes(name)),
    ...(offset === 0
      ? []
      : [
          element("offset", { sound: one.name === "direction" ? "yes" : undefined }, [
            offset / ticksPerDivision,
          ]),
        ]),
    ...rest.filter(({ name }) => BEFORE_STAFF.includes(name)),
    ...staff,
    ...rest.filter(({ name }) => !BEFORE_STAFF.includes(name)),
  ]);
}
