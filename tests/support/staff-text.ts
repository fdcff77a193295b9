import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  descendantAt,
  elementsOf,
  everyNamed,
  type XmlElement,
} from "../../src/xml/xml-tree.js";

/**
 * The music of a written part, a line a measure, voices between slashes:
 *
 *     G4+B3:half. r:quarter / _1 C4~:half
 *
 * A chord from its first note on with type and dots, ~ where a note is tied on, (3) in a tuplet, < and > where
 * the tuplet starts and stops, r a rest, R one that fills the measure, (r) a hidden one, _ a gap in
 * quarters, ' before a grace note.
 */
export function staffText(part: XmlElement, staff?: string): readonly string[] {
  let divisions = 1;
  return childrenNamed(part, "measure").map((measure) => {
    const voices = new Map<string, string[]>();
    for (const child of elementsOf(measure)) {
      divisions = Number((child.name === "attributes" && childText(child, "divisions")) || divisions);
      if (child.name !== "note" && child.name !== "forward") continue;
      if (staff !== undefined && childText(child, "staff") !== staff) continue;
      const voice = childText(child, "voice") ?? "1";
      const row = voices.get(voice) ?? [];
      voices.set(voice, row);
      if (child.name === "forward") row.push(`_${Number(childText(child, "duration")) / divisions}`);
      else if (childNamed(child, "chord") === undefined) row.push(noteText(child));
      else row.push((row.pop() ?? "").replace(":", `+${pitchText(child)}:`));
    }
    return [...voices.values()].map((row) => row.join(" ")).join(" / ");
  });
}

function noteText(note: XmlElement): string {
  const tuplets = [...everyNamed(note, "tuplet")].map((one) => attributeOf(one, "type"));
  const modification = childNamed(note, "time-modification");
  const value = [
    childText(note, "type") ?? "",
    ".".repeat(childrenNamed(note, "dot").length),
    modification === undefined ? "" : `(${childText(modification, "actual-notes")})`,
    tuplets.includes("start") ? "<" : "",
    tuplets.includes("stop") ? ">" : "",
  ].join("");
  return `${pitchText(note)}:${value}`;
}

function pitchText(note: XmlElement): string {
  const rest = childNamed(note, "rest");
  if (rest !== undefined) {
    const name = attributeOf(rest, "measure") === "yes" ? "R" : "r";
    return attributeOf(note, "print-object") === "no" ? `(${name})` : name;
  }
  const pitch = childNamed(note, "pitch");
  if (pitch === undefined) return "?";
  const alter = Number(childText(pitch, "alter") ?? "0");
  const accidentals = alter < 0 ? "b".repeat(-alter) : "#".repeat(alter);
  const isTiedOn = childrenNamed(note, "tie").some((tie) => attributeOf(tie, "type") === "start");
  const grace = childNamed(note, "grace") === undefined ? "" : "'";
  return `${grace}${childText(pitch, "step")}${accidentals}${childText(pitch, "octave")}${isTiedOn ? "~" : ""}`;
}

/** String and fret of every note of a part in document order, "3/5"; "-" where there are none. */
export const tabText = (part: XmlElement): readonly string[] =>
  [...everyNamed(part, "note")]
    .filter((note) => childNamed(note, "pitch") !== undefined)
    .map((note) => {
      const technical = descendantAt(note, "notations", "technical");
      const string = technical && childText(technical, "string");
      return string === undefined || technical === undefined
        ? "-"
        : `${string}/${childText(technical, "fret")}`;
    });
