import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { type Arranged, arrangeScore } from "../../src/arrange-score.js";
import { Findings, ScoreError } from "../../src/diagnostics.js";
import type { GuitarScore } from "../../src/guitar/guitar-score.js";
import { STANDARD_TUNING } from "../../src/guitar/instrument.js";
import { readGuitarScore } from "../../src/musicxml/guitar-reading/read-guitar-part.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { printXml } from "../../src/xml/print-xml.js";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  element,
  elementsOf,
  withAttribute,
  withChildren,
  withElements,
  withoutChildrenNamed,
  type XmlElement,
} from "../../src/xml/xml-tree.js";
import { attacksRead, attacksWritten } from "../support/attacks.js";
import { guitarScoreText } from "../support/guitar-score-text.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import { isSharedHere, SHARED } from "../support/shared.js";

const SAMPLES = fileURLToPath(new URL("../../sample-scores/", import.meta.url));
const arranged = (xml: string, options: object = {}): Arranged =>
  arrangeScore(parseXml(xml), completeOptions(options), new Findings());

const readBack = (root: XmlElement): GuitarScore => readGuitarScore(root, { melody: "auto" }, new Findings());
const readText = (xml: string): GuitarScore => readBack(parseXml(xml).root);

const textOfSample = (name: string) => readFileSync(join(SAMPLES, name), "utf8");

describe("what was written is read back, attack by attack", () => {
  const layouts = ["parts", "joined", "tab"] as const;

  test.each(layouts)("in another key, with a capo, another tuning and no lead sheet, as %s", (staves) => {
    const options = { staves, lead: "drop", key: "G", capo: 2, tuning: "D2 A2 D3 G3 B3 E4", frets: 17 };
    const written = arranged(textOfSample("two-oclock-ferry.musicxml"), options);
    const read = readText(printXml(written.document));
    expect(attacksRead(read)).toEqual(attacksWritten(written));
    expect(read.instrument).toEqual({ openStrings: [64, 59, 55, 50, 45, 38], capo: 2 });
    expect(read.melody.source).toBe("voice");
    const tune = written.sheet.tune.melody.map(
      ({ midi }) => midi + written.arrangement.transposition.semitones,
    );
    expect(read.melody.notes.map(({ midi }) => midi)).toEqual(tune);
  });

  test("grace notes, ties over barlines and triplets", () => {
    const tune = leadSheetFromText(`title: Three Buckets
key: 0 major
time: 4/4

[C] G4/8t A4/8t B4/8t C5/2.~ | [F] C5/4 A4/2. | [G7] B4/1~ | B4/2 [C] C5/2`);
    const withGrace = tune.replace(
      /<note>\s*<pitch>\s*<step>A<\/step>/,
      "<note><grace/><pitch><step>G</step><octave>4</octave></pitch><voice>1</voice><type>eighth</type></note>$&",
    );
    expect(withGrace).not.toBe(tune);
    for (const staves of layouts) {
      const written = arranged(withGrace, { staves });
      expect(written.arrangement.graces.size).toBe(1);
      expect(attacksRead(readText(printXml(written.document)))).toEqual(attacksWritten(written));
    }
  });
});

describe("whatever became of the file on its way", () => {
  const written = arranged(textOfSample("kettle-on-the-sill.musicxml"));
  const expected = attacksWritten(written);
  const { root } = written.document;
  const guitarIds = ["P2", "P3"];

  const withParts = (change: (parts: readonly XmlElement[]) => readonly XmlElement[]): XmlElement => {
    const rest = withoutChildrenNamed(root, "part");
    return withChildren(rest, [...rest.children, ...change(childrenNamed(root, "part"))]);
  };
  const everyNote = (score: XmlElement, change: (note: XmlElement) => XmlElement): XmlElement =>
    withElements(score, (part) =>
      part.name !== "part"
        ? part
        : withElements(part, (measure) =>
            withElements(measure, (child) => (child.name === "note" ? change(child) : child)),
          ),
    );

  test("the guitar is found where its parts stand in another order", () => {
    expect(attacksRead(readBack(withParts((parts) => parts.toReversed())))).toEqual(expected);
  });

  test("the guitar is found without its name, its ids and the mark in the file", () => {
    const bare = withoutChildrenNamed(root, "identification", "part-list");
    const renamed = withElements(bare, (part) =>
      part.name === "part" ? withAttribute(part, "id", `X${attributeOf(part, "id")}`) : part,
    );
    const read = readBack(renamed);
    expect(attacksRead(read)).toEqual(expected);
    expect(read.layout).toBe("parts");
  });

  test("ids that were exchanged lead nobody astray", () => {
    const turned = new Map([
      ["P1", "P3"],
      ["P2", "P1"],
      ["P3", "P2"],
    ]);
    const read = readBack(
      withElements(root, (part) =>
        part.name === "part" ? withAttribute(part, "id", turned.get(attributeOf(part, "id") ?? "")) : part,
      ),
    );
    expect(attacksRead(read)).toEqual(expected);
  });

  test("voices numbered from another number on change nothing", () => {
    const renumbered = everyNote(root, (note) =>
      withElements(note, (child) =>
        child.name === "voice" ? element("voice", {}, [Number(elementText(child)) + 4]) : child,
      ),
    );
    expect(attacksRead(readBack(renumbered))).toEqual(expected);
  });

  test("lead sheet, notation and TAB on three staves of one part", () => {
    expect(attacksRead(readBack(withParts((parts) => [mergedPart(parts)])))).toEqual(expected);
  });

  test("a notation part written an octave higher with a transposition sounds the same", () => {
    const raised = withElements(root, (part) =>
      part.name !== "part" || attributeOf(part, "id") !== guitarIds[0] ? part : writtenOctaveUp(part),
    );
    const read = readBack(raised);
    expect(attacksRead(read)).toEqual(expected);
    expect(read.notationAboveTab).toBe(0);
  });

  test("the TAB alone keeps strings and frets, the notation alone the fingers", () => {
    const tab = readBack(withParts((parts) => parts.slice(2)));
    expect(tab.layout).toBe("tab");
    expect(tab.notes.map(({ string, fret }) => `${string}/${fret}`)).toEqual(
      readBack(root).notes.map(({ string, fret }) => `${string}/${fret}`),
    );
    const notation = readBack(withParts((parts) => parts.slice(1, 2)));
    expect(notation.layout).toBe("notation");
    expect(notation.notes.map(({ midi }) => midi)).toEqual(readBack(root).notes.map(({ midi }) => midi));
    expect(notation.notes.some(({ finger }) => finger !== undefined && finger > 0)).toBe(true);
  });

  const elementText = (holder: XmlElement): string =>
    holder.children.map((child) => (child.kind === "text" ? child.raw : "")).join("");

  function writtenOctaveUp(part: XmlElement): XmlElement {
    const transpose = element("transpose", {}, [
      element("chromatic", {}, [0]),
      element("octave-change", {}, [-1]),
    ]);
    const withTranspose = withElements(part, (measure) =>
      withElements(measure, (child) =>
        child.name === "attributes" && childNamed(child, "divisions") !== undefined
          ? withChildren(withoutChildrenNamed(child, "clef"), [
              ...withoutChildrenNamed(child, "clef").children,
              transpose,
            ])
          : child,
      ),
    );
    return withElements(withTranspose, (measure) =>
      withElements(measure, (note) =>
        note.name !== "note"
          ? note
          : withElements(note, (pitch) =>
              pitch.name !== "pitch"
                ? pitch
                : withElements(pitch, (child) =>
                    child.name === "octave" ? element("octave", {}, [Number(elementText(child)) + 1]) : child,
                  ),
            ),
      ),
    );
  }

  /** Every part a staff of one, as a program merges them: divisions made equal, each after a backup. */
  function mergedPart(parts: readonly XmlElement[]): XmlElement {
    const [first] = parts;
    if (first === undefined) throw new Error("nothing to merge");
    const measures = childrenNamed(first, "measure").map((_, index) =>
      element(
        "measure",
        { number: index },
        parts.flatMap((part, staff) => {
          const measure = childrenNamed(part, "measure")[index];
          if (measure === undefined) return [];
          const back = staff === 0 ? [] : [element("backup", {}, [element("duration", {}, [4096])])];
          return [...back, ...elementsOf(onStaff(measure, staff + 1))];
        }),
      ),
    );
    return element("part", { id: "P1" }, measures);
  }

  /** A backup of 4096 leads to the start of the bar at the least: what is before it is cut off. */
  const onStaff = (measure: XmlElement, staff: number): XmlElement =>
    withElements(measure, (child) => {
      if (child.name === "note" || child.name === "harmony" || child.name === "direction")
        return withChildren(child, [
          ...withoutChildrenNamed(child, "staff").children,
          element("staff", {}, [staff]),
        ]);
      if (child.name !== "attributes") return child;
      return withElements(child, (one) =>
        one.name === "clef" || one.name === "staff-details" ? withAttribute(one, "number", staff) : one,
      );
    });
});

describe("a TAB staff is known by", () => {
  const TEXT = "4:2:2+1:3:4/2 1:0/2 | 1:1:1/1";
  const rows = (read: GuitarScore) => attacksRead(read);
  const expected = rows(readText(guitarScoreText(TEXT)));

  test("being the alternate of the staff before it", () => {
    const text = guitarScoreText(TEXT, { layout: "joined" })
      .replace(/<clef number="2">.*?<\/clef>/, "")
      .replace("<staff-lines>", "<staff-type>alternate</staff-type><staff-lines>");
    expect(rows(readText(text))).toEqual(expected);
  });

  test("lines that are tuned, without a clef", () => {
    const text = guitarScoreText(TEXT).replace(/<clef><sign>TAB.*?<\/clef>/, "");
    expect(rows(readText(text))).toEqual(expected);
  });
});

test("strings and frets on the notation staff are read there", () => {
  const text = guitarScoreText("4:2:2+1:3:4/1", { layout: "tab" }).replace(
    /<clef>.*?<\/clef><staff-details>.*?<\/staff-details>/,
    "<clef><sign>G</sign><line>2</line></clef>",
  );
  const read = readText(text);
  expect(read.layout).toBe("notation");
  expect(read.notes.map(({ string, fret, finger }) => `${string}/${fret}-${finger}`)).toEqual([
    "4/2-2",
    "1/3-4",
  ]);
  expect(read.instrument.openStrings).toBeUndefined();
});

test("a seven-string guitar has its strings counted from the highest line", () => {
  const openStrings = [...STANDARD_TUNING, 35];
  const read = readText(guitarScoreText("7:2:1+1:3:2/1", { openStrings }));
  expect(read.instrument.openStrings).toEqual(openStrings);
  expect(read.notes.map(({ midi }) => midi)).toEqual([37, 67]);
});

test("a tie may go on in another voice where the note says that it ends one", () => {
  const text = guitarScoreText("2:5:1~/1 | 2:5:1/1", { layout: "tab" });
  const moved = text.replace(/(<measure number="2">.*?)<voice>1/, "$1<voice>3");
  expect(moved).not.toBe(text);
  expect(readText(moved).notes).toHaveLength(1);
  const untied = moved.replace('<tie type="stop"/>', "");
  expect(readText(untied).notes).toHaveLength(2);
});

test("a second guitar is left out, and that is said", () => {
  const one = guitarScoreText("1:3:4/2 1:0/2", { layout: "tab" });
  const [, part = ""] = /(<part id="G">.*<\/part>)/s.exec(one) ?? [];
  const two = one.replace(
    part,
    `${part}${guitarScoreText("1:3:4/1", { layout: "tab" })
      .match(/<part id="G">.*<\/part>/s)?.[0]
      .replace('"G"', '"H"')}`,
  );
  const findings = new Findings();
  const read = readGuitarScore(parseXml(two).root, { melody: "auto" }, findings);
  expect(read.notes).toHaveLength(2);
  expect(findings.all.map(({ rule }) => rule)).toContain("tab-left-out");
});

test("a score without notes has no guitar part", () => {
  const empty = guitarScoreText("r/1");
  expect(() => readText(empty)).toThrow(ScoreError);
  expect(() => readText(empty)).toThrow("There is no guitar part");
});

test.skipIf(!isSharedHere)(
  "two parts, a pickup, endings, a tied chord, a triplet and two voices of a score from elsewhere",
  () => {
    const read = readText(readFileSync(join(SHARED, "interop-example.musicxml"), "utf8"));
    expect(read.layout).toBe("parts");
    expect(read.notes.every(({ notation, tab }) => notation !== undefined && tab !== undefined)).toBe(true);
    const firstChord = read.notes.filter(({ onset }) => onset === read.measures[1]?.start);
    expect(firstChord.map(({ midi }) => midi)).toEqual([43, 50, 59, 67]);
    expect(read.jumps).toHaveLength(2);
  },
);
