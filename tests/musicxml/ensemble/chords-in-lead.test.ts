import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  type Arranged,
  type ArrangeOptions,
  arrangeScore,
  completeOptions,
  Findings,
  readScore,
} from "../../../src/index.js";
import { readLeadSheet } from "../../../src/musicxml/lead-sheet/read-lead-sheet.js";
import { pitchClass } from "../../../src/song/pitch.js";
import { printXml } from "../../../src/xml/print-xml.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  type XmlElement,
} from "../../../src/xml/xml-tree.js";
import { ensembleFromText } from "../../support/ensemble-from-text.js";

const HEAD = "title: Gate at the Field\nkey: 0 major\ntime: 4/4\ntempo: 80";

const TRIO = ensembleFromText(`${HEAD}

part: Treble
E4/2 F4/2 | G4/4 A4/4 B4/2 | C5/1 ||

part: Middle
C4/2 C4/2 | C4/2 D4/2 | E4/1 ||

part: Low
C3/2 A2/2 | E3/4 F3/4 G2/2 | C3/1 ||`);

function arranged(text: string, options: Partial<ArrangeOptions> = {}): Arranged {
  const document = readScore(new TextEncoder().encode(text), new Findings());
  return arrangeScore(document, completeOptions({ alternatives: 0, ...options }), new Findings());
}

const partIn = (root: XmlElement, id: string): XmlElement | undefined =>
  childrenNamed(root, "part").find((part) => attributeOf(part, "id") === id);

const symbolsIn = (part: XmlElement | undefined): readonly XmlElement[] =>
  (part === undefined ? [] : childrenNamed(part, "measure")).flatMap((one) => childrenNamed(one, "harmony"));

/** When each chord begins, in ticks, and its root's pitch class and kind. */
const chordsOf = ({ sheet: { tune } }: Pick<Arranged, "sheet">) =>
  tune.chords.map(({ start, symbol }) => [
    start / tune.ticksPerQuarter,
    symbol && pitchClass(symbol.root),
    symbol?.kind,
    symbol?.bass && pitchClass(symbol.bass),
  ]);

describe("Chords worked out from voices", () => {
  test.each(["written", "voices"] as const)(
    "are those over the guitar once the voices are gone (chords: %s)",
    (chords) => {
      const alone = arranged(TRIO, { lead: "drop", chords });
      const text = printXml(alone.document);
      const back = arranged(text);
      expect(chordsOf(back)).toEqual(chordsOf(alone));
      expect(printXml(back.document)).toBe(text);
    },
  );

  test("stand over the guitar only, unless they are asked for over the tune", () => {
    const { document, sheet } = arranged(TRIO);
    expect(symbolsIn(partIn(document.root, "P1"))).toEqual([]);
    const asked = arranged(TRIO, { leadChords: true });
    expect(symbolsIn(partIn(asked.document.root, "P1"))).toHaveLength(sheet.tune.chords.length);
  });

  test("are read from there as what they were worked out to be, at the same times", () => {
    for (const name of ["lamps-along-the-quay", "geese-over-the-weir"]) {
      const asked = arranged(readFileSync(`sample-scores/${name}.musicxml`, "utf8"), { leadChords: true });
      const { melodyPartId } = asked.sheet.source;
      const lead = {
        ...asked.document.root,
        children: asked.document.root.children.filter(
          (part) =>
            part.kind !== "element" || part.name !== "part" || attributeOf(part, "id") === melodyPartId,
        ),
      };
      const sheet = readLeadSheet(lead, { melody: melodyPartId }, new Findings());
      expect(chordsOf({ sheet })).toEqual(chordsOf(asked));
    }
  });

  test("transpose with a part that is written in another key than it sounds", () => {
    const clarinet = ensembleFromText(`${HEAD}

part: Clarinet in B flat
transpose: -1 -2
key: 2 major
F#4/1 ||

part: Low
C3/2 G3/2 ||`);
    const asked = arranged(clarinet, { leadChords: true, melody: "P1" });
    const [symbol] = symbolsIn(partIn(asked.document.root, "P1"));
    const root = symbol && childNamed(symbol, "root");
    // C as it sounds.
    expect(root && childText(root, "root-step")).toBe("D");
    const sheet = readLeadSheet(asked.document.root, { melody: "P1" }, new Findings());
    expect(sheet.source.harmonyPartId).toBe("P1");
    expect(chordsOf({ sheet })).toEqual(chordsOf(asked));
  });

  test("move along where the lead sheet does", () => {
    const asked = arranged(TRIO, { leadChords: true, key: "D" });
    const sheet = readLeadSheet(asked.document.root, { melody: "P1" }, new Findings());
    const up = chordsOf(asked).map(([at, root, ...rest]) => [at, ((root as number) + 2) % 12, ...rest]);
    expect(chordsOf({ sheet }).map((chord) => chord.slice(0, 3))).toEqual(
      up.map((chord) => chord.slice(0, 3)),
    );
  });

  test("are written once, however often the score is arranged", () => {
    const first = arranged(TRIO, { leadChords: true });
    const again = arrangeScore(first.document, completeOptions({ alternatives: 0 }), new Findings());
    expect(symbolsIn(partIn(again.document.root, "P1"))).toHaveLength(first.sheet.tune.chords.length);
    expect(chordsOf(again)).toEqual(chordsOf(first));
  });

  test("do not come among chord symbols that are there, and that is said", () => {
    const first = arranged(TRIO, { leadChords: true });
    const findings = new Findings();
    const options = completeOptions({
      alternatives: 0,
      leadChords: true,
      chords: "voices",
      edits: "discard",
    });
    const again = arrangeScore(first.document, options, findings);
    expect(symbolsIn(partIn(again.document.root, "P1"))).toHaveLength(first.sheet.tune.chords.length);
    expect(findings.all.map(({ rule }) => rule)).toContain("lead-chords-there");
  });
});
