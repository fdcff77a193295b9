import { shapeName } from "../harmony/shapes/shape-name.js";
import { listed } from "../listed.js";
import type { EventReport, NoteReport } from "../reporting/event-report.js";
import type { NeckMap } from "../reporting/hand-trace.js";
import { degreeInWords } from "../reporting/moment-words.js";
import type { Report } from "../reporting/report.js";
import { fretsAround, neckPicture } from "./neck-picture.js";
import {
  type Block,
  brokenInto,
  heading,
  INNER_MM,
  PAGE_MM,
  pagesOf,
  paragraph,
  pictureAt,
  words,
} from "./sheet-page.js";

/** A grip that is struck, wherever on the neck, and the moments at which it is. */
export interface LearntShape {
  /** What follows the root in the chord's text; "" for a major triad. */
  readonly quality: string;
  /** The melody's degree; absent where the melody rests. */
  readonly melodyDegree: string | undefined;
  /** The first moment that has it. */
  readonly first: EventReport;
  readonly moments: readonly EventReport[];
}

/**
 * Each distinct grip of an arrangement once: the same strings, fingers and distances between frets over the same
 * quality under the same degree are one, at whatever fret. Ordered by quality and degree, the most frequent
 * quality first.
 */
export function learntShapes({ events }: Pick<Report, "events">): readonly LearntShape[] {
  const shapes = new Map<string, EventReport[]>();
  for (const event of events) {
    if (event.chord === undefined || event.notes.length < 2) continue;
    if (event.attack !== "struck" && event.attack !== "under") continue;
    const key = [qualityOf(event.chord), event.melodyDegree ?? "", patternOf(event.notes)].join("|");
    shapes.set(key, [...(shapes.get(key) ?? []), event]);
  }
  const learnt = [...shapes.values()].flatMap((moments): LearntShape[] => {
    const [first] = moments;
    return first === undefined
      ? []
      : [{ quality: qualityOf(first.chord ?? ""), melodyDegree: first.melodyDegree, first, moments }];
  });
  const count = (quality: string) =>
    learnt.filter((one) => one.quality === quality).reduce((sum, { moments }) => sum + moments.length, 0);
  return learnt.toSorted(
    (one, other) =>
      count(other.quality) - count(one.quality) ||
      compared(one.quality, other.quality) ||
      degreeOrder(one) - degreeOrder(other) ||
      compared(one.melodyDegree ?? "", other.melodyDegree ?? "") ||
      other.moments.length - one.moments.length,
  );
}

/** The shape sheet as pages. */
export function shapePages(report: Report, neck: NeckMap): readonly string[] {
  const learnt = learntShapes(report);
  const title = report.title ?? "Untitled";
  const groups = new Map<string, LearntShape[]>();
  for (const shape of learnt) {
    groups.set(shape.quality, [...(groups.get(shape.quality) ?? []), shape]);
  }
  const blocks: Block[] = [
    heading(`${title}: the shapes in it`, 6.2),
    paragraph(
      `${learnt.length} shapes in ${report.key.after}, by chord and by what the melody is over it. The diamond is the melody; a number is a finger; dashed strings are silent. A shape without open strings is the same at every fret: learn it once and move it.`,
    ),
  ];
  for (const [quality, shapes] of groups) {
    blocks.push(heading(quality === "" ? "Major triad" : quality));
    for (let index = 0; index < shapes.length; index += CARDS_IN_ROW)
      blocks.push(rowOf(shapes.slice(index, index + CARDS_IN_ROW), neck));
  }
  if (learnt.length === 0) blocks.push(paragraph("No chord is struck in this arrangement."));
  return pagesOf(blocks, `${title}: shapes`);
}

/** "Gm7/F" has the quality "m7": neither root nor bass. */
const qualityOf = (chord: string): string =>
  chord.replace(/^[A-G](bb|b|##|#)?/, "").replace(/\/[A-G](bb|b|##|#)?$/, "");

/** Strings, fingers and frets against the lowest that is stopped; open strings as they are. */
function patternOf(notes: readonly NoteReport[]): string {
  const lowest = Math.min(...notes.map(({ fret }) => (fret === 0 ? Number.POSITIVE_INFINITY : fret)));
  const isMovable = notes.every(({ fret }) => fret > 0);
  const from = isMovable ? lowest : 0;
  return notes.map(({ string, fret, finger }) => `${string}:${fret - from}-${finger}`).join(" ");
}

const degreeOrder = ({ melodyDegree }: LearntShape): number =>
  Number(/\d+/.exec(melodyDegree ?? "")?.[0] ?? 99);

const compared = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

const CARDS_IN_ROW = 4;
const CARD_MM = INNER_MM / CARDS_IN_ROW;
const PICTURE_MM = 22;
const TEXT_MM = 2.6;
const MOST_PLACES = 6;

function rowOf(shapes: readonly LearntShape[], neck: NeckMap): Block {
  const cards = shapes.map((shape) => ({
    picture: neckPicture({
      neck,
      ...fretsAround(shape.first.notes, neck),
      notes: shape.first.notes,
      degrees: shape.first.degrees,
      hasMelody: shape.first.melody !== undefined,
      isNamed: true,
    }),
    lines: cardWords(shape).flatMap((line) => brokenInto(line, CARD_MM - 4, TEXT_MM)),
  }));
  const lines = Math.max(...cards.map((card) => card.lines.length));
  return {
    heightMm: PICTURE_MM + lines * TEXT_MM * 1.35 + 3,
    draw: (top) =>
      cards
        .map(({ picture, lines: own }, index) => {
          const x = PAGE_MM.margin + index * CARD_MM;
          return (
            pictureAt(picture, x, top, CARD_MM - 5, PICTURE_MM) +
            own
              .map((line, order) =>
                words(line, x, top + PICTURE_MM + TEXT_MM * (1 + order * 1.35), TEXT_MM, {
                  isBold: order === 0,
                }),
              )
              .join("")
          );
        })
        .join(""),
  };
}

function cardWords({ first, melodyDegree, moments }: LearntShape): readonly string[] {
  const places = moments.map(({ measure, beat, chord, notes }) => {
    const frets = notes.map(({ fret }) => fret).filter((fret) => fret > 0);
    return `${measure}/${beat} ${chord}${frets.length === 0 ? "" : ` fret ${Math.min(...frets)}`}`;
  });
  return [
    melodyDegree === undefined ? "the melody rests" : `${degreeInWords(melodyDegree)} on top`,
    first.shape === undefined ? first.degrees.join(" ") : shapeName(first.shape),
    `Measure/beat: ${listed(places, MOST_PLACES)}`,
  ];
}
