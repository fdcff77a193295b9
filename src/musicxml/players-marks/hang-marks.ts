import type { XmlElement } from "../../xml/xml-tree.js";
import { walkedAlone } from "../timeline/walked-score.js";
import { lineNumber, type Numbered, withLineNumber } from "./line-numbers.js";
import {
  isLineOfBarre,
  type Mark,
  type MarkedStaff,
  marksOnStaff,
  momentOf,
  type Piece,
  placesOn,
  type StaffPlace,
} from "./marks-on-staff.js";
import { addedMarks, type PlayersMarks } from "./players-marks.js";
import { type Additions, withAdditions } from "./with-additions.js";

/** One of the guitar's staves as it is written. */
export interface StaffWritten {
  /** Position of its part among the guitar's. */
  readonly part: number;
  /** undefined where the part has one staff only. */
  readonly staff: number | undefined;
  readonly isTab: boolean;
}

export interface Hung {
  readonly parts: readonly XmlElement[];
  /** Marks for which the new part has no place. */
  readonly lost: readonly Mark[];
}

/**
 * Hangs a player's marks on the guitar's parts as they are newly written: on the same note of the same moment, or
 * at the same beat of the measure. What belongs to a chord as a whole goes to what is struck there now; what belongs to
 * one pitch needs that pitch, or to have been on the highest note, which is the tune's. A line needs both its ends.
 * What is hung on a part is found there when it comes back, and hung alike.
 */
export function hangMarks(
  parts: readonly XmlElement[],
  staves: readonly StaffWritten[],
  players: PlayersMarks,
): Hung {
  if (players.came.length === 0) return { parts, lost: [] };
  const written = writtenStaves(parts, staves);
  const made = written.flatMap(({ marks }) => marks);
  const additions: Additions = { onNotes: new Map(), directions: [] };
  const lost: Mark[] = [];
  const lines: Numbered[] = [];
  for (const mark of addedMarks(players, made)) {
    if (written.some((staff) => isLineOfBarre(mark, staff))) continue;
    const spots = mark.pieces.map((piece) => spotFor(piece, written));
    if (spots.includes(undefined)) {
      lost.push(mark);
      continue;
    }
    const number = lineNumber(mark, made, lines);
    if (number !== undefined) lines.push({ mark, number });
    mark.pieces.forEach((piece, index) => {
      const spot = spots[index];
      if (spot !== undefined) hang(piece, spot, number, additions);
    });
  }
  return { parts: withAdditions(parts, additions), lost };
}

interface WrittenStaff extends MarkedStaff {
  readonly number: number | undefined;
  readonly places: ReadonlyMap<string, readonly StaffPlace[]>;
  readonly marks: readonly Mark[];
}

function writtenStaves(
  parts: readonly XmlElement[],
  staves: readonly StaffWritten[],
): readonly WrittenStaff[] {
  const walked = parts.map(walkedAlone);
  return staves.flatMap(({ part, staff, isTab }) => {
    const here = walked[part];
    if (here === undefined) return [];
    const marked: MarkedStaff = { part: here, staff: String(staff ?? 1), isTab };
    const places = new Map<string, StaffPlace[]>();
    for (const place of placesOn(marked))
      places.set(momentOf(place), [...(places.get(momentOf(place)) ?? []), place]);
    return [{ ...marked, number: staff, places, marks: marksOnStaff(marked) }];
  });
}

/** Where a piece goes: a note, or a staff alone. */
interface Spot {
  readonly staff: WrittenStaff;
  readonly note: StaffPlace | undefined;
}

function spotFor(piece: Piece, written: readonly WrittenStaff[]): Spot | undefined {
  const staff = written.find(({ isTab }) => isTab === piece.isTab) ?? written[0];
  if (staff === undefined) return undefined;
  if (piece.kind === "direction")
    return staff.part.measures[piece.measure] === undefined ? undefined : { staff, note: undefined };
  const note = noteFor(piece, staff.places.get(momentOf(piece.on)) ?? []);
  return note && { staff, note };
}

function noteFor(
  { on, sign, isHighest }: Extract<Piece, { kind: "note" }>,
  here: readonly StaffPlace[],
): StaffPlace | undefined {
  const pitch = on.midi;
  if (pitch === undefined) return here.find(({ midi }) => midi === undefined);
  const struck = here.filter(({ midi }) => midi !== undefined);
  const same =
    struck.find(({ midi }) => midi === pitch) ?? struck.find(({ midi = 0 }) => midi % 12 === pitch % 12);
  if (same !== undefined || on.isGrace) return same;
  if (isHighest) return struck.toSorted((a, b) => (b.midi ?? 0) - (a.midi ?? 0))[0];
  return sign.isOfPitch ? undefined : struck.find(({ isInChord }) => !isInChord);
}

function hang(piece: Piece, { staff, note }: Spot, number: number | undefined, additions: Additions): void {
  const element = withLineNumber(piece.sign.element, number);
  const { name } = piece.sign;
  if (note !== undefined && piece.kind === "note") {
    const signs = additions.onNotes.get(note.element) ?? [];
    const cameOn = piece.on.element;
    // Once is enough where several notes of a chord had it, or both staves; one note may have two, as a bend and its release.
    const isThere =
      piece.sign.end === undefined && signs.some((sign) => sign.name === name && sign.cameOn !== cameOn);
    if (!isThere) additions.onNotes.set(note.element, [...signs, { ...piece.sign, element, cameOn }]);
  } else if (piece.kind === "direction") {
    const { direction, measure, at } = piece;
    const { part, number: ofPart } = staff;
    const added = { name, direction, type: element, measure, at, part, staff: ofPart };
    const isThere = additions.directions.some(
      (other) =>
        other.direction !== direction &&
        other.name === name &&
        [other.part === part, other.measure === measure, other.at === at].every(Boolean),
    );
    // What stood on both staves stands once where one of them is left.
    if (staff.isTab === piece.isTab || !isThere) additions.directions.push(added);
  }
}
