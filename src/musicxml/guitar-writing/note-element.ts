import type { Plucked } from "../../arrangement/plucked-strings.js";
import type { Pitch } from "../../song/pitch.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  element,
  elementsOf,
  leaf,
  NO_VALUES,
  sharedLeaf,
  withAttribute,
  withChildren,
  type XmlElement,
} from "../../xml/xml-tree.js";
import { copiedElement } from "./copied-element.js";
import { isLetRing, letRing, ringsBeyond } from "./let-ring.js";
import type { NoteValue } from "./note-value.js";
import type { ShownFingers } from "./shown-fingers.js";
import type { StaffStyle } from "./staff-style.js";
import type { PartNote, VoiceItem } from "./voice-item.js";

/** What the notes of one item need to know beyond the item. */
export interface NoteContext {
  readonly style: StaffStyle;
  /** Voice number on this staff. */
  readonly voice: number;
  /** undefined leaves the direction to the program that draws it. */
  readonly stem: "up" | "down" | undefined;
  readonly ticksPerDivision: number;
  readonly accidentals: ReadonlyMap<PartNote, string>;
  readonly beams: readonly string[];
  readonly tuplets: readonly XmlElement[];
  /** The `<note>` of the lead sheet that lyrics and ornaments are taken from. */
  readonly lead: XmlElement | undefined;
  /** Whether the words of the song stand under this part. */
  readonly hasLyrics: boolean;
  /** Where two voices share the staff, the side of it on which this one's fingers stand. */
  readonly fingerSide: "above" | "below" | undefined;
  /** Whose fingers of what is struck here are printed; those of the others are only on record. */
  readonly shownFingers: ShownFingers;
  /** Right-hand fingers of what is struck here that a player needs to be told. */
  readonly plucked: readonly Plucked[];
  /** An id for the next note, unlike all others in the document. */
  readonly nextId: () => string;
}

/** Marks of a melody note that mean the same on the guitar. Technical marks of another instrument do not. */
const KEPT_NOTATIONS = ["slur", "ornaments", "articulations", "dynamics", "fermata"];

/** The `<note>` elements of a chord, note, grace note or rest; none for a grace note TAB has no string for. */
export function noteElements(item: VoiceItem, context: NoteContext): readonly XmlElement[] {
  if (item.kind === "rest" || item.kind === "hidden-rest") return [restElement(item, context)];
  const { isTab } = context.style;
  const shown = item.notes.filter((note) => !isTab || note.placement !== undefined);
  const ofAll = ofAllNotes(item, context);
  return shown.map((note, index) => pitchedElement(item, note, index === 0, ofAll, context));
}

/** What is the same on all notes of a chord. */
interface OfAllNotes {
  readonly duration: readonly XmlElement[];
  readonly voice: XmlElement;
  readonly type: readonly XmlElement[];
  readonly ratio: readonly XmlElement[];
  readonly stem: readonly XmlElement[];
  readonly staff: readonly XmlElement[];
}

function ofAllNotes(item: VoiceItem, context: NoteContext): OfAllNotes {
  const { style, ticksPerDivision, voice } = context;
  const stem = style.isTab && !style.isMain ? "none" : context.stem;
  return {
    duration: item.kind === "grace" ? [] : [leaf("duration", item.length / ticksPerDivision)],
    voice: sharedLeaf("voice", voice),
    type: typeElements(item.value),
    ratio: ratioElements(item.value),
    stem: stem === undefined ? [] : [sharedLeaf("stem", stem)],
    staff: staffElement(style),
  };
}

function restElement(item: VoiceItem, context: NoteContext): XmlElement {
  // TAB under notation shows no rests: the notation does.
  const isHidden =
    item.kind === "hidden-rest" ||
    !context.style.isMain ||
    (item.source?.element !== undefined && attributeOf(item.source.element, "print-object") === "no");
  return element("note", { id: context.nextId(), "print-object": isHidden ? "no" : undefined }, [
    element("rest", { measure: item.fillsMeasure ? "yes" : undefined }),
    leaf("duration", item.length / context.ticksPerDivision),
    sharedLeaf("voice", context.voice),
    ...typeElements(item.value),
    ...ratioElements(item.value),
    ...staffElement(context.style),
    ...notationsElement([
      ...context.tuplets,
      ...(context.style.isMain && context.lead !== undefined && item.isFirstPiece
        ? marksOf(context.lead).filter(({ name }) => name === "fermata")
        : []),
    ]),
  ]);
}

function pitchedElement(
  item: VoiceItem,
  note: PartNote,
  isFirst: boolean,
  ofAll: OfAllNotes,
  context: NoteContext,
): XmlElement {
  const { style, shownFingers } = context;
  const isMelody = isFirst && item.source !== undefined;
  const isFingerPrinted =
    item.kind === "grace" || shownFingers === "all" || (isMelody && shownFingers === "melody");
  const accidental = style.isTab ? undefined : context.accidentals.get(note);
  const id = context.nextId();
  const children: XmlElement[] = [];
  if (item.kind === "grace") children.push(graceElement(context.lead));
  if (!isFirst) children.push(CHORD);
  children.push(pitchElement(note.pitch), ...ofAll.duration);
  if (note.tiedFrom) children.push(TIE.stop);
  if (note.tiedOn) children.push(TIE.start);
  children.push(ofAll.voice, ...ofAll.type);
  if (accidental !== undefined) children.push(sharedLeaf("accidental", accidental));
  children.push(...ofAll.ratio, ...ofAll.stem);
  // Held over, not struck again.
  if (style.isTab && note.tiedFrom) children.push(HELD_OVER);
  children.push(...ofAll.staff);
  if (isFirst && style.isMain) children.push(...beamElements(context.beams));
  const marks = notationsOf(item, note, id, isFirst, isFingerPrinted, context);
  if (marks.length > 0) children.push(element("notations", NO_VALUES, marks));
  if (!isFingerPrinted) children.push(...fingerOnRecord(note, style));
  if (isMelody && style.isMain && item.isFirstPiece && context.hasLyrics)
    children.push(...lyricsOf(context.lead));
  return element("note", { id, dynamics: style.isMain ? undefined : 0 }, children);
}

const CHORD = element("chord");
const TIE = { start: element("tie", { type: "start" }), stop: element("tie", { type: "stop" }) };
const TIED = { start: element("tied", { type: "start" }), stop: element("tied", { type: "stop" }) };

const HELD_OVER = element("notehead", { parentheses: "yes" }, ["normal"]);

/** What stands in the `<notations>` of a note. */
function notationsOf(
  item: VoiceItem,
  note: PartNote,
  id: string,
  isFirst: boolean,
  isFingerPrinted: boolean,
  context: NoteContext,
): readonly XmlElement[] {
  const { isMain } = context.style;
  const marks: XmlElement[] = [];
  if (note.tiedFrom) marks.push(TIED.stop);
  if (note.tiedOn) marks.push(TIED.start);
  if (note.ringsBeyond !== undefined) marks.push(letRing(id, note.ringsBeyond));
  if (isFirst) for (const tuplet of context.tuplets) marks.push(isMain ? tuplet : unseen(tuplet));
  if (isFirst && item.source !== undefined && isMain) marks.push(...melodyMarks(item, note, context.lead));
  const technical = technicalElement(note, isFingerPrinted, context);
  if (technical !== undefined) marks.push(technical);
  return marks;
}

/** What stands on a melody note besides its own ties: ornaments and the like, and ties drawn from one side only. */
const melodyMarks = (item: VoiceItem, note: PartNote, lead: XmlElement | undefined): readonly XmlElement[] =>
  lead === undefined || !item.isFirstPiece
    ? []
    : [...(item.kind === "grace" ? [] : oneSidedTies(item, note, lead)), ...marksOf(lead)];

/** Ties into a second ending, out of a repeat, or left ringing: drawn, though they join nothing. */
const oneSidedTies = (item: VoiceItem, note: PartNote, lead: XmlElement): readonly XmlElement[] =>
  notationsIn(lead)
    .filter(({ name }) => name === "tied")
    .filter((tied) => {
      const type = attributeOf(tied, "type");
      return (
        (type === "start" && !note.tiedOn && item.keepsTieDrawn) ||
        (type === "stop" && !note.tiedFrom) ||
        (isLetRing(tied) && note.ringsBeyond === undefined && ringsBeyond(tied) === undefined)
      );
    })
    .map(copiedElement);

const marksOf = (lead: XmlElement): readonly XmlElement[] =>
  notationsIn(lead)
    .filter(({ name }) => KEPT_NOTATIONS.includes(name))
    .map(copiedElement);

export const notationsIn = (note: XmlElement): readonly XmlElement[] =>
  childrenNamed(note, "notations").flatMap(elementsOf);

const lyricsOf = (lead: XmlElement | undefined): readonly XmlElement[] =>
  lead === undefined ? [] : childrenNamed(lead, "lyric").map(copiedElement);

/** TAB keeps the tuplet, which lines it up with the notation, and does not draw it. */
const unseen = (tuplet: XmlElement): XmlElement =>
  withChildren(withAttribute(withAttribute(tuplet, "bracket", "no"), "show-number", "none"), []);

function graceElement(lead: XmlElement | undefined): XmlElement {
  const grace = lead && childNamed(lead, "grace");
  return grace === undefined ? element("grace") : copiedElement(grace);
}

export const pitchElement = ({ letter, alter, octave }: Pitch): XmlElement =>
  element(
    "pitch",
    NO_VALUES,
    alter === 0
      ? [sharedLeaf("step", letter), sharedLeaf("octave", octave)]
      : [sharedLeaf("step", letter), leaf("alter", alter), sharedLeaf("octave", octave)],
  );

function typeElements(value: NoteValue | undefined): readonly XmlElement[] {
  if (value === undefined) return [];
  const elements = [sharedLeaf("type", value.type)];
  for (let dot = 0; dot < value.dots; dot += 1) elements.push(DOT);
  return elements;
}

const DOT = element("dot");

const ratioElements = (value: NoteValue | undefined): readonly XmlElement[] =>
  value?.ratio === undefined
    ? []
    : [
        element("time-modification", {}, [
          leaf("actual-notes", value.ratio.actual),
          leaf("normal-notes", value.ratio.normal),
        ]),
      ];

export const staffElement = ({ staff }: StaffStyle): readonly XmlElement[] =>
  staff === undefined ? [] : [sharedLeaf("staff", staff)];

const beamElements = (beams: readonly string[]): readonly XmlElement[] =>
  beams.flatMap((beam, level) => (beam === undefined ? [] : element("beam", { number: level + 1 }, [beam])));

const notationsElement = (marks: readonly XmlElement[]): readonly XmlElement[] =>
  marks.length === 0 ? [] : [element("notations", {}, marks)];

/** String and fret on TAB; the finger where a stopped string is newly struck, on the staff that shows fingers. */
function technicalElement(
  note: PartNote,
  isFingerPrinted: boolean,
  { style, fingerSide: placement, plucked }: NoteContext,
): XmlElement | undefined {
  if (note.placement === undefined) return undefined;
  const { string, fret } = note.placement;
  const finger = isFingerPrinted ? fingerOf(note, style) : undefined;
  const pluck =
    style.isMain && !note.tiedFrom ? plucked.find((one) => one.string === string)?.finger : undefined;
  const marks: XmlElement[] = [];
  if (pluck !== undefined) marks.push(element("pluck", { placement }, [pluck]));
  if (finger !== undefined) marks.push(element("fingering", { placement }, [finger]));
  if (style.isTab) marks.push(sharedLeaf("string", string), sharedLeaf("fret", fret));
  return marks.length === 0 ? undefined : element("technical", NO_VALUES, marks);
}

/** A finger that stays where it is: not printed again, and not lost. */
function fingerOnRecord(note: PartNote, style: StaffStyle): readonly XmlElement[] {
  const finger = fingerOf(note, style);
  return finger === undefined
    ? []
    : [
        element("notations", { "print-object": "no" }, [
          element("technical", {}, [sharedLeaf("fingering", finger)]),
        ]),
      ];
}

const fingerOf = ({ placement, tiedFrom }: PartNote, { isMain }: StaffStyle): number | undefined =>
  isMain && placement !== undefined && placement.finger > 0 && !tiedFrom ? placement.finger : undefined;
