import type { Arrangement } from "../../arrangement/arrangement.js";
import type { Plucked } from "../../arrangement/plucked-strings.js";
import type { ArrangeOptions } from "../../options/options.js";
import { attributeOf, childNamed, childrenNamed, element, type XmlElement } from "../../xml/xml-tree.js";
import type { LeadSheet, SourceMeasure } from "../lead-sheet/lead-sheet.js";
import { transpositionInForce } from "../lead-sheet/transposition-in-force.js";
import type { KeyInForce } from "./accidentals.js";
import { copiedElement } from "./copied-element.js";
import { forStaff, keyElement, keyShownAt, timeElement, unprinted } from "./key-and-time.js";
import type { MeasurePlan } from "./measure-plan.js";
import { intervalToGuitar } from "./moved-step.js";
import type { ShownFingers } from "./shown-fingers.js";
import { staffAttributes } from "./staff-attributes.js";
import { type Between, staffMusic } from "./staff-music.js";
import type { GuitarPart } from "./staff-style.js";

/** Everything the parts of the guitar are written from. */
export interface GuitarMusic {
  readonly sheet: LeadSheet;
  readonly arrangement: Arrangement;
  readonly options: ArrangeOptions;
  readonly plans: readonly MeasurePlan[];
  readonly keys: readonly KeyInForce[];
  /** What stands above the staff that carries it, for each measure. */
  readonly shown: readonly (readonly Between[])[];
  readonly ticksPerDivision: number;
  /** Whose fingers are printed, by time. */
  readonly shownFingers: ReadonlyMap<number, ShownFingers>;
  /** Right-hand fingers that are printed, by time. */
  readonly plucked: ReadonlyMap<number, readonly Plucked[]>;
  /** Whether the guitar stands for the lead sheet: then it carries line breaks and lyrics. */
  readonly isAlone: boolean;
}

/** One `<part>` of the guitar. */
export const partElement = (id: string, part: GuitarPart, music: GuitarMusic): XmlElement =>
  element(
    "part",
    { id },
    music.plans.map((plan) => measureElement(id, plan, part, music)),
  );

function measureElement(partId: string, plan: MeasurePlan, part: GuitarPart, music: GuitarMusic): XmlElement {
  const { source, measure } = plan;
  const lead = source.element;
  const barlines = (location: "left" | "right") =>
    source.barlines
      .filter((barline) => barline.location === location)
      .map((barline) => copiedElement(barline.element));
  const [main] = part.staves;
  const between = main?.isMain ? (music.shown[measure.index] ?? []) : [];
  const changes = inTime([...attributeChanges(plan, part, music), ...middleBarlines(source)]);
  return element(
    "measure",
    {
      number: measure.label,
      implicit: attributeOf(lead, "implicit"),
      "non-controlling": attributeOf(lead, "non-controlling"),
      text: attributeOf(lead, "text"),
    },
    [
      ...(music.isAlone ? lineBreaks(lead) : []),
      ...barlines("left"),
      ...openingAttributes(plan, part, music),
      ...part.staves.flatMap((style, index) => [
        ...(index === 0 ? [] : [element("backup", {}, [durationElement(measure.length, music)])]),
        ...staffMusic(plan, style, index === 0 ? inTime([...changes, ...between]) : [], {
          partId,
          ticksPerDivision: music.ticksPerDivision,
          shownFingers: music.shownFingers,
          plucked: music.plucked,
          hasLyrics: music.isAlone,
        }),
      ]),
      ...barlines("right"),
    ],
  );
}

const durationElement = (ticks: number, { ticksPerDivision }: GuitarMusic): XmlElement =>
  element("duration", {}, [ticks / ticksPerDivision]);

/** Changes before signs, signs before chord symbols, chord symbols before notes; a stable order by time. */
const inTime = (between: readonly Between[]): readonly Between[] =>
  between.toSorted((one, other) => one.at - other.at || rank(one) - rank(other));

const rank = ({ element: { name } }: Between): number =>
  name === "barline" ? 0 : name === "attributes" ? 1 : name === "harmony" ? 3 : 2;

const middleBarlines = ({ barlines }: SourceMeasure): readonly Between[] =>
  barlines
    .filter(({ location }) => location === "middle")
    .map(({ at, element: barline }) => ({ at, element: copiedElement(barline) }));

/** New systems of the lead sheet; its page breaks counted one staff a system, and become new systems. */
const lineBreaks = (lead: XmlElement): readonly XmlElement[] =>
  childrenNamed(lead, "print").some(
    (print) => attributeOf(print, "new-system") === "yes" || attributeOf(print, "new-page") === "yes",
  )
    ? [element("print", { "new-system": "yes" })]
    : [];

/** `<attributes>` at the start of a measure; undefined values leave an element out. */
function openingAttributes(plan: MeasurePlan, part: GuitarPart, music: GuitarMusic): readonly XmlElement[] {
  const { measure, source } = plan;
  const opening = source.attributes.filter(({ at }) => at <= measure.start).map(({ element: one }) => one);
  const isFirst = measure.index === 0;
  const children = [
    ...(isFirst
      ? [element("divisions", {}, [music.sheet.tune.ticksPerQuarter / music.ticksPerDivision])]
      : []),
    ...keyAndTime(opening, measure.start, isFirst, part, music),
    ...(isFirst ? staffAttributes(part, music.arrangement.instrument, music.options.tuning) : []),
  ];
  return children.length === 0 ? [] : [element("attributes", {}, children)];
}

/** Changes of key or meter after a measure has begun. */
const attributeChanges = (plan: MeasurePlan, part: GuitarPart, music: GuitarMusic): readonly Between[] =>
  plan.source.attributes
    .filter(({ at }) => at > plan.measure.start)
    .flatMap(({ at, element: one }) => {
      const children = keyAndTime([one], at, false, part, music);
      return children.length === 0 ? [] : [{ at, element: element("attributes", {}, children) }];
    });

/** TAB needs no key signature, and no meter where the staff above shows it. */
function keyAndTime(
  sources: readonly XmlElement[],
  at: number,
  isFirst: boolean,
  part: GuitarPart,
  { sheet, keys, arrangement }: GuitarMusic,
): readonly XmlElement[] {
  const [style] = part.staves;
  const { staff } = sheet.source;
  const keySource = sources.filter((one) => childNamed(one, "key")).at(-1);
  const timeSource = sources.filter((one) => childNamed(one, "time")).at(-1);
  const { fifths } = keyShownAt(keys, sheet, at);
  const key =
    keySource === undefined && !isFirst
      ? undefined
      : keyElement(
          keySource && forStaff(keySource, "key", staff),
          fifths,
          intervalToGuitar(transpositionInForce(sheet.source, at), arrangement.transposition.interval),
        );
  const time = timeSource && forStaff(timeSource, "time", staff);
  return [
    ...(key === undefined ? [] : [style?.isTab ? unprinted(key) : key]),
    ...(time === undefined
      ? []
      : [style?.isTab && !style.isMain ? unprinted(timeElement(time)) : timeElement(time)]),
  ];
}
