import { leadSheetFromText } from "./lead-sheet-from-text.js";

/**
 * A score of several parts as MusicXML 4.0 from a short text: the head of `leadSheetFromText`, then a block for
 * each part, its bars written as there:
 *
 *     title: Two Geese
 *     key: 1 major
 *     time: 3/4
 *
 *     part: Soprano
 *     G4/2 B4/4 | C5/2. ||
 *
 *     part: Clarinet in B flat
 *     clef: F                (G where nothing is said)
 *     transpose: -1 -2       (steps and semitones from written to sounding)
 *     key: 3 major           (as written in this part)
 *     A3/2 A3/4 | D3/2. ||
 */
export function ensembleFromText(text: string): string {
  const [head = "", ...blocks] = text.trim().split(/\n\s*\n/);
  const parts = blocks.map((block) => partFrom(head, block));
  const [first] = parts;
  if (first === undefined) throw new Error("an ensemble has parts");
  const list = parts.map(
    ({ name }, index) => `    <score-part id="P${index + 1}">
      <part-name>${name}</part-name>
    </score-part>`,
  );
  const bodies = parts.map(({ measures }, index) => `  <part id="P${index + 1}">\n${measures}\n  </part>`);
  return first.xml
    .replace(/ {4}<score-part id="P1">.*<\/score-part>/s, list.join("\n"))
    .replace(/ {2}<part id="P1">.*<\/part>/s, bodies.join("\n"));
}

/** Whether a short text has parts. */
export const isEnsembleText = (text: string): boolean => /^part: /m.test(text);

function partFrom(head: string, block: string) {
  const lines = block.trim().split("\n");
  const field = (name: string) =>
    lines
      .find((line) => line.startsWith(`${name}: `))
      ?.slice(name.length + 2)
      .trim();
  const bars = lines.filter((line) => !/^\w+: /.test(line)).join("\n");
  const key = field("key");
  const ownHead = key === undefined ? head : head.replace(/^key: .*$/m, `key: ${key}`);
  const [diatonic, chromatic] = field("transpose")?.split(" ") ?? [];
  const xml = leadSheetFromText(`${ownHead}\n\n${bars}`)
    .replace(
      "<clef><sign>G</sign><line>2</line></clef>",
      field("clef") === "F" ? "<clef><sign>F</sign><line>4</line></clef>" : "$&",
    )
    .replace(
      "</clef>",
      chromatic === undefined
        ? "$&"
        : `$&\n        <transpose><diatonic>${diatonic}</diatonic><chromatic>${chromatic}</chromatic></transpose>`,
    );
  const measures = /<part id="P1">\n(.*)\n {2}<\/part>/s.exec(xml)?.[1] ?? "";
  return { name: field("part") ?? "Part", xml, measures };
}
