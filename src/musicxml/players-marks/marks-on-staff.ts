import { midiOf } from "../../song/pitch.js";
import { childNamed, childText, type XmlElement } from "../../xml/xml-tree.js";
import { barreMarksAmong, isNameOfBarre } from "../guitar-writing/barre-marks.js";
import type { Quarters } from "../timeline/exact-time.js";
import { shiftAt, soundingPitch } from "../timeline/transposition.js";
import type { WalkedNote, WalkedPart } from "../timeline/walked-part.js";
import {
  type DirectionSign,
  isDashedBracket,
  type Sign,
  signsOfDirection,
  signsOnNote,
} from "./mark-kinds.js";
import { openLines } from "./open-lines.js";

/** One of the guitar's staves in a score. */
export interface MarkedStaff {
  readonly part: WalkedPart;
  /** Its number in the part. */
  readonly staff: string;
  readonly isTab: boolean;
}

/** A note or rest of a staff, by what tells it from the others. */
export interface StaffPlace {
  readonly element: XmlElement;
  readonly measure: number;
  /** Thousandths of a quarter from the start of its measure. */
  readonly at: number;
  readonly voice: string;
  /** Sounding; undefined for a rest. */
  readonly midi: number | undefined;
  readonly isGrace: boolean;
  /** Written as one with the note before it. */
  readonly isInChord: boolean;
}

/** One end of a mark, or all of it. */
export type Piece =
  | {
      readonly kind: "note";
      readonly sign: Sign;
      readonly on: StaffPlace;
      /** Whether nothing higher is struck with it. */
      readonly isHighest: boolean;
      readonly isTab: boolean;
    }
  | {
      readonly kind: "direction";
      readonly sign: DirectionSign;
      readonly direction: XmlElement;
      readonly measure: number;
      readonly at: number;
      readonly isTab: boolean;
    };

/** A mark with all its pieces: a slur with both ends. */
export interface Mark {
  readonly name: string;
  /** Position of the measure it begins in, from 0. */
  readonly measure: number;
  readonly at: number;
  readonly pieces: readonly Piece[];
}

/** The marks of a staff by the time they begin at. */
export function marksOnStaff(staff: MarkedStaff): readonly Mark[] {
  const pieces = [...notePieces(staff), ...directionPieces(staff)];
  const inTime = pieces
    .map((piece) => ({ piece, ...whenOf(piece) }))
    .sort((a, b) => a.measure - b.measure || a.at - b.at);
  const marks: Mark[] = [];
  const lines = openLines<Piece[]>();
  for (const { piece, measure, at } of inTime) {
    const { name, element, end } = piece.sign;
    const sign = { on: piece.kind, element, end };
    const begun = lines.lineOf(sign);
    if (begun !== undefined) {
      begun.push(piece);
      continue;
    }
    const mark = { name, measure, at, pieces: [piece] };
    marks.push(mark);
    lines.begin(sign, mark.pieces);
  }
  return marks;
}

export const whenOf = (piece: Piece): { readonly measure: number; readonly at: number } =>
  piece.kind === "note" ? piece.on : piece;

/** The notes and rests of a staff. */
export const placesOn = ({ part, staff }: MarkedStaff): readonly StaffPlace[] =>
  part.notes.filter((note) => note.staff === staff).map((note) => placeOf(part, note));

export const thousandths = (quarters: Quarters): number => Math.round(quarters.valueOf() * 1000);

/** A time of a part from the start of its measure. */
const inMeasure = ({ measures }: WalkedPart, measure: number, at: Quarters): number =>
  thousandths(at.sub(measures[measure]?.start ?? 0));

function placeOf(
  part: WalkedPart,
  { element, measure, at, voice, staff, isGrace, written }: WalkedNote,
): StaffPlace {
  const pitch = written && { ...written, alter: Math.round(written.alter) };
  return {
    element,
    measure,
    at: inMeasure(part, measure, at),
    voice,
    midi: pitch && midiOf(soundingPitch(pitch, shiftAt(part.shifts, staff, at))),
    isGrace,
    isInChord: childNamed(element, "chord") !== undefined,
  };
}

/** The time of a note, grace notes apart: what is struck together has it in common. */
export const momentOf = ({ measure, at, isGrace }: StaffPlace): string => `${measure} ${at} ${isGrace}`;

function notePieces(staff: MarkedStaff): readonly Piece[] {
  const highest = new Map<string, number>();
  const places = placesOn(staff);
  for (const place of places)
    highest.set(momentOf(place), Math.max(place.midi ?? 0, highest.get(momentOf(place)) ?? 0));
  return places.flatMap((on) => {
    const isHighest = on.midi === highest.get(momentOf(on));
    return signsOnNote(on.element).map(
      (sign): Piece => ({ kind: "note", sign, on, isHighest, isTab: staff.isTab }),
    );
  });
}

function directionsOf({ part, staff }: MarkedStaff) {
  return part.directions
    .filter(({ element }) => element.name === "direction" && (childText(element, "staff") || "1") === staff)
    .map(({ at, measure, element }) => ({ element, measure, at: inMeasure(part, measure, at) }));
}

/**
 * Whether a sign is a dashed line that begins with the name of a barre on some staff: as one of that barre it would be
 * taken when it comes back.
 */
export function isLineOfBarre({ pieces: [piece] }: Mark, staff: MarkedStaff): boolean {
  if (piece?.kind !== "direction" || piece.isTab !== staff.isTab || !isDashedBracket(piece.sign))
    return false;
  const { measure, at } = piece;
  return directionsOf(staff).some(
    (one) => one.measure === measure && one.at === at && isNameOfBarre(one.element),
  );
}

function directionPieces(marked: MarkedStaff): readonly Piece[] {
  const here = directionsOf(marked);
  const { isTab } = marked;
  const barres = barreMarksAmong(
    here.map(({ element, measure, at }) => ({ element, at: measure * 1e6 + at })),
  );
  return here.flatMap(({ element, measure, at }) =>
    signsOfDirection(element)
      .filter((sign) => !barres.has(element) || !isDashedBracket(sign))
      .map((sign): Piece => ({ kind: "direction", sign, direction: element, measure, at, isTab })),
  );
}
