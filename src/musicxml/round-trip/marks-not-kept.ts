import type { Finding } from "../../diagnostics.js";
import { listed } from "../../listed.js";
import { attributeOf, childrenNamed, elementsOf, textOf, type XmlElement } from "../../xml/xml-tree.js";

/** What a person adds to a guitar part that is not the grips themselves. */
const MARKS = new Set([
  "wedge",
  "words",
  "rehearsal",
  "slur",
  "glissando",
  "slide",
  "arpeggiate",
  "non-arpeggiate",
  "fermata",
  "hammer-on",
  "pull-off",
  "bend",
  "tap",
  "harmonic",
  "pluck",
  "lyric",
]);

/** Marks that hold others: each of those is one. */
const HOLDERS = new Set(["dynamics", "articulations", "ornaments"]);

/** "CV", "½CVIII", "V": words that say where a barre or the hand is, ours to write and to leave out. */
const BARRE_OR_POSITION = /^(½?C)?[IVXL]+$/;

/** More are counted, not named. */
const MOST_NAMED = 12;

/**
 * Says which marks of a guitar part that came back are not in the new one, which is written anew. Both as parts of a
 * partwise score. undefined where none is missing.
 *
 * @param ours marks that this program wrote into the score that came, and may leave out of the new one
 */
export function marksNotKept(
  came: readonly XmlElement[],
  made: readonly XmlElement[],
  ours: readonly string[] = [],
): Finding | undefined {
  const now = countOf(made.flatMap(marksIn));
  const lost = came.flatMap(marksIn).filter((mark) => {
    if (ours.includes(mark.name)) return false;
    const left = now.get(keyOf(mark)) ?? 0;
    now.set(keyOf(mark), left - 1);
    return left <= 0;
  });
  const [first] = lost;
  if (first === undefined) return undefined;
  const named = [...countOf(lost)].map(([name, count]) => (count === 1 ? name : `${name}, ${count} times`));
  const list = listed(named, MOST_NAMED, "; ");
  return {
    rule: "marks-not-kept",
    severity: "warning",
    place: { measure: first.measure },
    found: list,
    expected: "marks in the lead sheet, from where they are taken over",
    message: `The guitar part is written anew, and these marks in it are lost: ${list}.`,
    hint: "Add them to the lead sheet, or last of all.",
  };
}

interface Mark {
  readonly name: string;
  /** Position in the part, from 1. */
  readonly measure: number;
}

/** As it is named: "slur in measure 3". */
const keyOf = ({ name, measure }: Mark): string => `${name} in measure ${measure}`;

function countOf(marks: readonly Mark[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const mark of marks) counts.set(keyOf(mark), (counts.get(keyOf(mark)) ?? 0) + 1);
  return counts;
}

function marksIn(part: XmlElement): readonly Mark[] {
  const marks: Mark[] = [];
  childrenNamed(part, "measure").forEach((measure, index) => {
    const look = (one: XmlElement): void => {
      const words = nameOf(one);
      if (words !== undefined) marks.push({ name: words, measure: index + 1 });
      for (const child of elementsOf(one))
        if (HOLDERS.has(one.name)) marks.push({ name: `${one.name} ${child.name}`, measure: index + 1 });
        else look(child);
    };
    look(measure);
  });
  return marks;
}

/** undefined for what is no mark, and for the ends of what was named where it began. */
function nameOf(one: XmlElement): string | undefined {
  if (!MARKS.has(one.name) || attributeOf(one, "type") === "stop") return undefined;
  if (one.name !== "words" && one.name !== "rehearsal") return one.name;
  const said = textOf(one).trim();
  return BARRE_OR_POSITION.test(said) ? undefined : `${one.name} "${said}"`;
}
