import type { XmlElement } from "../../xml/xml-tree.js";
import { ringsBeyond } from "../guitar-writing/let-ring.js";
import { marksLeft } from "./marks-on-record.js";
import { type Mark, type MarkedStaff, marksOnStaff, type Piece, whenOf } from "./marks-on-staff.js";

/** What a guitar part that came back may have of marks that are not the player's. */
export interface MarksWritten {
  /** Marks it was written with; undefined where there is no record. */
  readonly record: string | undefined;
  /** Whether it has as many measures as then. */
  readonly isInPlace: boolean;
  /** Whether letters for the right hand are written anew. */
  readonly isPluckingWritten: boolean;
}

/** The marks of a guitar part that came back, and which of them the new one has of its own. */
export interface PlayersMarks {
  readonly came: readonly Mark[];
  readonly written: MarksWritten;
}

export function marksThatCame(staves: readonly MarkedStaff[], written: MarksWritten): PlayersMarks {
  const came = staves
    .flatMap(marksOnStaff)
    .filter(({ name }) => name !== "pluck" || !written.isPluckingWritten);
  return { came, written };
}

/**
 * The marks that a player added: those that the new part `made` does not have in the same place, and that the
 * part was not written with. Without a record, one that the new part has elsewhere in the measure is the same.
 */
export function addedMarks({ came, written }: PlayersMarks, made: readonly Mark[]): readonly Mark[] {
  const { record, isInPlace } = written;
  const left = record === undefined ? undefined : marksLeft(record, isInPlace);
  const places = counted(made.map(placeKey));
  const inMeasures = counted(made.map(measureKey));
  const elsewhere = came.filter((mark) => {
    if (!takenFrom(places, placeKey(mark)) && !isOurTie(mark)) return true;
    takenFrom(inMeasures, measureKey(mark));
    left?.take(mark.measure, mark.name);
    return false;
  });
  return elsewhere.filter((mark) =>
    left === undefined ? !takenFrom(inMeasures, measureKey(mark)) : !left.take(mark.measure, mark.name),
  );
}

/** The signs of the marks that are not on the record; none where there is no record. */
export function signsNotOnRecord({
  came,
  written: { record, isInPlace },
}: PlayersMarks): ReadonlySet<XmlElement> {
  const left = record === undefined ? undefined : marksLeft(record, isInPlace);
  const added =
    left === undefined ? [] : came.filter((mark) => !left.take(mark.measure, mark.name) && !isOurTie(mark));
  return new Set(added.flatMap(({ pieces }) => pieces.map(({ sign }) => sign.element)));
}

/**
 * Whether a tie is by its id one that we wrote, which may have been copied to where the record has none. Hung as the
 * player's it would lose the id, and could be taken for a note that rings on when it comes back.
 */
const isOurTie = ({ pieces }: Mark): boolean =>
  pieces.some(({ sign }) => ringsBeyond(sign.element) !== undefined);

const measureKey = ({ name, measure }: Mark): string => `${measure} ${name}`;

/** By name, time and note; both staves may show what one of them was written with. */
const placeKey = (mark: Mark): string => `${mark.name} ${mark.pieces.map(pieceKey).join()}`;

function pieceKey(piece: Piece): string {
  const { measure, at } = whenOf(piece);
  const pitchClass = piece.kind === "note" ? (piece.on.midi ?? -1) % 12 : "";
  return `${piece.isTab} ${measure} ${at} ${pitchClass} ${piece.sign.end ?? ""}`;
}

function counted(keys: readonly string[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const key of keys) counts.set(key, (counts.get(key) ?? 0) + 1);
  return counts;
}

function takenFrom(counts: Map<string, number>, key: string): boolean {
  const count = counts.get(key) ?? 0;
  if (count > 0) counts.set(key, count - 1);
  return count > 0;
}
