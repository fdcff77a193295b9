import type { Finding } from "../../diagnostics.js";
import { textOf, type XmlElement } from "../../xml/xml-tree.js";

/** What a person adds to a guitar part that is not the grips themselves. */
const MARKS = [
  "dynamics",
  "wedge",
  "words",
  "rehearsal",
  "slur",
  "glissando",
  "slide",
  "arpeggiate",
  "fermata",
  "articulations",
  "ornaments",
  "hammer-on",
  "pull-off",
  "bend",
  "harmonic",
  "pluck",
  "lyric",
];

/** "CV", "½CVIII", "V": words that say where a barre or the hand is, ours to write and to leave out. */
const BARRE_OR_POSITION = /^(½?C)?[IVXL]+$/;

/**
 * Says which marks of a score that came back are not in the new one: those that were added to the guitar
 * part, which is written anew. undefined where none is missing. `ours`: marks that the score had from here.
 */
export function marksNotKept(
  came: XmlElement,
  made: XmlElement,
  ours: readonly string[] = [],
): Finding | undefined {
  const now = marksIn(made);
  const lost = [...marksIn(came)].flatMap(([name, count]) => {
    if (ours.includes(name)) return [];
    const missing = count - (now.get(name) ?? 0);
    return missing > 0 ? [`${name} (${missing})`] : [];
  });
  if (lost.length === 0) return undefined;
  return {
    rule: "marks-not-kept",
    severity: "warning",
    place: {},
    found: lost.join(", "),
    expected: "marks in the lead sheet, from where they are taken over",
    message: `The guitar part is written anew, and these marks in it are lost: ${lost.join(", ")}.`,
    hint: "Add them to the lead sheet, or last of all.",
  };
}

function marksIn(root: XmlElement): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  const count = (element: XmlElement): void => {
    const isMark = MARKS.includes(element.name) && !BARRE_OR_POSITION.test(textOf(element).trim());
    if (isMark) counts.set(element.name, (counts.get(element.name) ?? 0) + 1);
    for (const child of element.children) if (child.kind === "element") count(child);
  };
  count(root);
  return counts;
}
