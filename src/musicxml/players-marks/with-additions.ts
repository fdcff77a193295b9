import {
  attributeOf,
  childNamed,
  element,
  elementsOf,
  everyNamed,
  textOf,
  withChildren,
  withElements,
  type XmlElement,
  type XmlNode,
} from "../../xml/xml-tree.js";
import { copiedElement } from "../guitar-writing/copied-element.js";
import { soundElement } from "../guitar-writing/direction-element.js";
import { placed } from "../guitar-writing/staff-music.js";
import type { WalkedPart } from "../timeline/walked-part.js";
import type { Sign } from "./mark-kinds.js";
import { placesOn, thousandths } from "./marks-on-staff.js";

/** What is added to the parts of the guitar as they are written. */
export interface Additions {
  /** By the `<note>` they go to. */
  readonly onNotes: Map<XmlElement, readonly AddedSign[]>;
  readonly directions: AddedDirection[];
}

export interface AddedSign extends Sign {
  /** The `<note>` that it came on. */
  readonly cameOn: XmlElement;
}

export interface AddedDirection {
  readonly name: string;
  /** The `<direction>` it came in, and the `<direction-type>` of it that is added. */
  readonly direction: XmlElement;
  readonly type: XmlElement;
  /** Position of the measure, from 0, and thousandths of a quarter in it. */
  readonly measure: number;
  readonly at: number;
  readonly part: WalkedPart;
  readonly staff: number | undefined;
}

/** The parts with what is added, in the places that the writer has for such: signs before the note of their time. */
export function withAdditions(parts: readonly XmlElement[], additions: Additions): readonly XmlElement[] {
  return parts.map((part) => {
    const placements = placementsOf(additions.directions.filter((one) => one.part.element === part));
    return withElements(part, (measure) =>
      withChildren(
        measure,
        measure.children.flatMap((child): readonly XmlNode[] => {
          if (child.kind !== "element") return [child];
          const signs = additions.onNotes.get(child);
          return [
            ...(placements.before.get(child) ?? []),
            signs === undefined ? child : withSigns(child, signs),
            ...(placements.after.get(child) ?? []),
          ];
        }),
      ),
    );
  });
}

interface Placements {
  readonly before: Map<XmlElement, XmlElement[]>;
  readonly after: Map<XmlElement, XmlElement[]>;
}

function placementsOf(directions: readonly AddedDirection[]): Placements {
  const placements: Placements = { before: new Map(), after: new Map() };
  // Signs that came in one direction stand in one.
  const groups = new Map<XmlElement, Map<string, AddedDirection[]>>();
  for (const added of directions) {
    const place = `${added.staff} ${added.measure}`;
    const ofOne = groups.get(added.direction) ?? new Map<string, AddedDirection[]>();
    ofOne.set(place, [...(ofOne.get(place) ?? []), added]);
    groups.set(added.direction, ofOne);
  }
  for (const [first, ...rest] of [...groups.values()].flatMap((one) => [...one.values()])) {
    if (first === undefined) continue;
    const anchor = anchorFor(first);
    if (anchor === undefined) continue;
    const types = [first, ...rest].map(({ type }) => type);
    const style = { staff: first.staff, isTab: false, isMain: true, melodyVoice: 1 };
    const between = { at: first.at, element: signElement(first.direction, types) };
    const one = placed(between, anchor.at, style, 1000 / divisionsOf(first.part.element));
    const places = anchor.isAfter ? placements.after : placements.before;
    places.set(anchor.element, [...(places.get(anchor.element) ?? []), one]);
  }
  return placements;
}

interface Anchor {
  readonly element: XmlElement;
  readonly isAfter: boolean;
  /** The time that stands at it. */
  readonly at: number;
}

/** What a sign stands before: the note of its time, else the one that lasts over it; at the end, behind the last. */
function anchorFor({ part, measure, at, staff }: AddedDirection): Anchor | undefined {
  const notes = placesOn({ part, staff: String(staff ?? 1), isTab: false }).filter(
    (place) => place.measure === measure && !place.isGrace && !place.isInChord,
  );
  const length = thousandths(part.measures[measure]?.length ?? part.end);
  const [first] = notes;
  const voice = notes.filter((place) => place.voice === first?.voice);
  const last = voice.at(-1);
  if (at >= length && last !== undefined) {
    const element = endOfChord(part.measures[measure]?.element, last.element);
    return { element, isAfter: true, at: length };
  }
  const here = notes.find((place) => place.at === at) ?? voice.findLast((place) => place.at <= at) ?? first;
  return here && { element: here.element, isAfter: false, at: here.at };
}

/** The last note of the chord that a note begins. */
function endOfChord(measure: XmlElement | undefined, note: XmlElement): XmlElement {
  const children = measure === undefined ? [] : elementsOf(measure);
  let index = children.indexOf(note);
  const isNext = (child: XmlElement | undefined) =>
    child?.name === "note" && childNamed(child, "chord") !== undefined;
  while (isNext(children[index + 1])) index += 1;
  return children[index] ?? note;
}

function divisionsOf(part: XmlElement): number {
  const [first] = everyNamed(part, "divisions");
  return first === undefined ? 1 : Number(textOf(first));
}

/** A `<direction>` with some of its signs only, fit for the part that is written. */
function signElement(direction: XmlElement, types: readonly XmlElement[]): XmlElement {
  const left = ["direction-type", "offset", "voice", "staff", "listening"];
  const rest = elementsOf(direction).filter(({ name }) => !left.includes(name));
  const copy = copiedElement(withChildren(direction, [...types, ...rest]));
  return withElements(copy, (child) => (child.name === "sound" ? soundElement(child) : child));
}

/** A note with more signs: in the holders and `<notations>` that it has, else in new ones. */
function withSigns(note: XmlElement, signs: readonly Sign[]): XmlElement {
  const lyrics = signs.filter(({ holder }) => holder === "note").map((sign) => copiedElement(sign.element));
  const marks = signs.filter(({ holder }) => holder !== "note");
  const children = elementsOf(note);
  const printed = children.find(
    (one) => one.name === "notations" && attributeOf(one, "print-object") !== "no",
  );
  const notations = marks.length === 0 ? printed : marks.reduce(withSign, printed ?? element("notations"));
  const isLater = ({ name }: XmlElement) => LAST_IN_NOTE.includes(name);
  const before = children.filter((one) => !isLater(one) && one !== printed);
  const after = children.filter((one) => isLater(one) && one !== printed);
  const [hidden, rest] = [
    after.filter(({ name }) => name === "notations"),
    after.filter(({ name }) => name !== "notations"),
  ];
  return withChildren(note, [
    ...before,
    ...(notations === undefined ? [] : [notations]),
    ...hidden,
    ...rest.filter(({ name }) => name === "lyric"),
    ...lyrics,
    ...rest.filter(({ name }) => name !== "lyric"),
  ]);
}

/** What stands at the end of a note, in the order of the schema. */
const LAST_IN_NOTE = ["notations", "lyric", "play", "listen"];

function withSign(notations: XmlElement, { holder, element: sign }: Sign): XmlElement {
  const copy = copiedElement(sign);
  if (holder === "notations" || holder === "note")
    return withChildren(notations, [...notations.children, copy]);
  const there = childNamed(notations, holder);
  return there === undefined
    ? withChildren(notations, [...notations.children, element(holder, {}, [copy])])
    : withElements(notations, (child) =>
        child === there ? withChildren(there, [...there.children, copy]) : child,
      );
}
