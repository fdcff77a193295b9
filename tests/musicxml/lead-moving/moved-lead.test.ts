import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { Findings } from "../../../src/diagnostics.js";
import { movedLead } from "../../../src/musicxml/lead-moving/moved-lead.js";
import { partwiseScore } from "../../../src/musicxml/timeline/partwise.js";
import { readScore } from "../../../src/read-score.js";
import { mod12, pitchClass } from "../../../src/song/pitch.js";
import type { Tune } from "../../../src/song/tune.js";
import { parseXml } from "../../../src/xml/parse-xml.js";
import { printXml } from "../../../src/xml/print-xml.js";
import type { XmlElement } from "../../../src/xml/xml-tree.js";
import { runInMemory } from "../../support/outside-in-memory.js";
import { readText } from "../../support/reading.js";
import { isSchemaHere, schemaErrors } from "../../support/schema.js";
import { attributes, FOUR_FOUR, harmony, leadSheet, note, score } from "../../support/score-text.js";
import { isSharedHere, SHARED } from "../../support/shared.js";
import { chordText, melodyText } from "../../support/tune-text.js";

const key = (fifths: number) => `<key><fifths>${fifths}</fifths><mode>major</mode></key>`;
const shown = (sign: string, more = "") => ({ after: `<accidental${more}>${sign}</accidental>` });
const textOf = (root: XmlElement) => printXml({ prolog: "", root, epilog: "" });
const moved = (xml: string, interval: string, semitones: number) =>
  textOf(movedLead(parseXml(xml).root, { interval, semitones }));

/** Notes with the accidental shown before them: "#F4", "nB4". */
const signs = (xml: string) =>
  [...xml.matchAll(/<step>(.)<\/step>(?:<alter>[^<]*<\/alter>)?<octave>(\d)(?:(?!<\/note>).)*/g)].map(
    ([whole, step, octave]) => {
      const sign = /<accidental[^>]*>([^<]*)/.exec(whole)?.[1];
      const letter = { sharp: "#", flat: "b", natural: "n", "double-sharp": "x" }[sign ?? ""] ?? "";
      return `${letter}${step}${octave}`;
    },
  );

test("a staff that begins without a key says which it is written in when it is moved, whatever the others say", () => {
  const keysOf = (keys: string, staves = "") => {
    const text = moved(score([{ bars: [attributes(keys + FOUR_FOUR + staves) + note("F4", 16)] }]), "3m", 3);
    return [...text.matchAll(/<key(?: number="(\d+)")?><fifths>(-?\d+)/g)].map(
      ([, staff, fifths]) => `${staff ?? ""}:${fifths}`,
    );
  };
  const keyOf = (staff: number, fifths: number) => `<key number="${staff}"><fifths>${fifths}</fifths></key>`;
  expect(keysOf("")).toEqual([":-3"]);
  expect(keysOf(key(1))).toEqual([":-2"]);
  expect(keysOf(keyOf(1, 1) + keyOf(2, 0), "<staves>2</staves>")).toEqual(["1:-2", "2:-3"]);
  expect(keysOf(keyOf(2, 0), "<staves>2</staves>")).toEqual(["1:-3", "2:-3"]);
  expect(keysOf(keyOf(7, 0)).toSorted()).toEqual(["1:-3", "7:-3"]);
  // A key that cannot be read is none, in a later measure too.
  const later = moved(
    score([
      {
        bars: [
          attributes(key(0) + FOUR_FOUR) + note("F4", 16),
          attributes("<key><fifths>99</fifths></key>") + note("F4", 16),
        ],
      },
    ]),
    "3m",
    3,
  );
  expect([...later.matchAll(/<fifths>(-?\d+)/g)].map(([, fifths]) => fifths)).toEqual(["-3", "-3"]);
  expect(keysOf("<key/>")).toEqual([":-3"]);
  expect(keysOf("<key><fifths>many</fifths></key>")).toEqual([":-3"]);
  expect(
    moved(
      score([{ bars: [attributes(`<key><mode>minor</mode></key>${FOUR_FOUR}`) + note("F4", 16)] }]),
      "3m",
      3,
    ),
  ).toContain("<key><fifths>-3</fifths><mode>minor</mode></key>");
  expect(keysOf(`${keyOf(1, 1)}<key number="2"/>`, "<staves>2</staves>").toSorted()).toEqual([
    "1:-2",
    "2:-3",
  ]);
});

describe("A lead sheet moved to another key", () => {
  const sheet = score([
    {
      bars: [
        attributes(key(0) + FOUR_FOUR) +
          harmony("D", "minor-seventh", "<bass><bass-step>C</bass-step></bass>") +
          note("F4", 4) +
          note("F#4", 4, shown("sharp")) +
          note("F#4", 4) +
          note("B4", 4, shown("natural", ' cautionary="yes"')),
        harmony("G", "dominant") + note("Bb4", 8, shown("flat")) + note("B4", 8, shown("natural")),
      ],
    },
  ]);

  test("has its notes, keys and chord symbols there", () => {
    const { tune } = readText(moved(sheet, "3m", 3));
    expect(melodyText(tune)).toEqual([
      "1:1 Ab4 1",
      "1:2 A4 1",
      "1:3 A4 1",
      "1:4 D5 1",
      "2:1 Db5 2",
      "2:3 D5 2",
    ]);
    expect(chordText(tune)).toEqual(["1:1 F minor-seventh/Eb", "2:1 Bb dominant"]);
    expect(tune.keys).toEqual([{ at: 0, fifths: -3, mode: "major" }]);
  });

  test("shows the accidentals that the new key asks for, and keeps reminders", () => {
    expect(signs(moved(sheet, "3m", 3))).toEqual(["A4", "nA4", "A4", "nD5", "bD5", "nD5"]);
    expect(signs(moved(sheet, "2M", 2))).toEqual(["G4", "#G4", "G4", "#C5", "nC5", "#C5"]);
    expect(signs(moved(sheet, "1P", 0))).toEqual(signs(sheet));
  });

  test("keeps quarter tones, ties without a second sign, and percussion as it is", () => {
    const quarter = moved(leadSheet(harmony("C") + note("E4", 16, { alter: "-0.5" })), "2M", 2);
    expect(quarter).toContain("<step>F</step><alter>0.5</alter>");
    const tied = leadSheet(
      harmony("C") + note("F#4", 16, { tie: "start", ...shown("sharp") }),
      note("F#4", 16, { tie: "stop" }),
    );
    expect(signs(moved(tied, "2M", 2))).toEqual(["#G4", "G4"]);
    const drum = "<note><unpitched/><duration>16</duration></note>";
    expect(moved(score([{ bars: [attributes(FOUR_FOUR) + drum] }]), "2M", 2)).toContain("<unpitched/>");
  });

  test("loses diagrams of its chords, which show grips of the old key", () => {
    const frame = "<frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets></frame>";
    expect(moved(leadSheet(harmony("C", "major", frame) + note("G4", 16)), "2M", 2)).not.toContain("frame");
  });

  test.skipIf(!isSharedHere)(
    "of the collection has every sounding pitch and chord moved by the same, and stays valid",
    () => {
      const folder = join(SHARED, "corpus", "lead-sheets");
      const pitches = ({ melody }: Tune) => melody.map(({ midi }) => midi);
      const roots = ({ chords }: Tune) =>
        chords.flatMap(({ symbol }) => (symbol === undefined ? [] : [pitchClass(symbol.root)]));
      for (const name of readdirSync(folder).filter((_, index) => index % 25 === 4)) {
        const { root } = readScore(readFileSync(join(folder, name)), new Findings());
        const before = partwiseScore(root);
        // Typed chords do not move, and keep their lead sheet where it is.
        if (readText(textOf(before)).source.textsTaken.size > 0) continue;
        const there = movedLead(before, { interval: "-3m", semitones: -3 });
        const [one, other] = [before, there].map((part) => readText(textOf(part)).tune);
        if (one === undefined || other === undefined) throw new Error("no tune");
        expect(pitches(other), name).toEqual(pitches(one).map((midi) => midi - 3));
        expect(roots(other), name).toEqual(roots(one).map((root) => mod12(root - 3)));
        const back = readText(textOf(movedLead(there, { interval: "3m", semitones: 3 }))).tune;
        expect(pitches(back), name).toEqual(pitches(one));
        if (isSchemaHere && schemaErrors(textOf(before)) === "")
          expect(schemaErrors(textOf(there)), name).toBe("");
      }
    },
    120_000,
  );
});

describe("Beside a guitar in another key", () => {
  const tune = score([
    {
      bars: [
        attributes(key(0) + FOUR_FOUR) + harmony("C") + note("C5", 8) + note("E5", 8),
        harmony("G", "dominant") + note("D5", 8) + note("B4", 8),
        harmony("C") + note("C5", 16),
      ],
    },
  ]);
  const arranged = async (words: readonly string[], xml = tune) => {
    const ran = await runInMemory(["arrange", "a.musicxml", "-o", "b.musicxml", ...words], {
      "a.musicxml": xml,
    });
    expect(ran.status, ran.errors).toBe(0);
    const text = new TextDecoder().decode(ran.files.get("b.musicxml"));
    const lead = readText(text).tune;
    return { text, lead, said: `${ran.output}${ran.errors}` };
  };

  test("the lead sheet moves along, which is said, and a second run changes nothing", async () => {
    const { text, lead, said } = await arranged(["--key", "D"]);
    expect(melodyText(lead)[0]).toBe("1:1 D5 2");
    expect(chordText(lead)[1]).toBe("2:1 A dominant");
    expect(said).toContain("The lead sheet beside the guitar was moved along, from C major to D major.");
    const again = await arranged([], text);
    expect(again.text).toBe(text);
    expect(again.said).not.toMatch(/warning|moved along/);
  });

  test("it stays as written where that is asked for, with a plain sentence", async () => {
    const { lead, said } = await arranged(["--key", "D", "--lead-key", "written"]);
    expect(melodyText(lead)[0]).toBe("1:1 C5 2");
    expect(said).toContain("The guitar plays in D major; the lead sheet beside it stays in C major.");
  });

  test("it stays where its chords are text or it has frets of its own, and why is said", async () => {
    const words = (text: string) =>
      `<direction placement="above"><direction-type><words>${text}</words></direction-type></direction>`;
    const typed = leadSheet(words("C") + note("C5", 16), words("G7") + note("D5", 16));
    expect((await arranged(["--key", "D"], typed)).said).toContain(
      "stays in C major or A minor, as its chords are text, which only mending makes chord symbols.",
    );
    const tab = leadSheet(
      harmony("C") +
        note("C5", 16, {
          after: "<notations><technical><string>2</string><fret>1</fret></technical></notations>",
        }),
    );
    expect((await arranged(["--key", "D", "--edits", "discard"], tab)).said).toContain(
      "as it has frets of its own",
    );
  });

  test("it stays where a note of it would lie beyond the octaves that a score can hold", async () => {
    const secondPart = (pitch: string) =>
      leadSheet(
        harmony("C") +
          note("C5", 16) +
          `<backup><duration>16</duration></backup>${note(pitch, 16, { voice: 2 })}`,
      );
    expect((await arranged(["--key", "B"], secondPart("C0"))).said).toContain(
      "as some of its notes would lie beyond the octaves that a score can hold",
    );
    expect((await arranged(["--key", "B"], secondPart("D0"))).said).toContain("was moved along");
  });

  test("moved by octaves only, or dropped, it is nothing to be said of", async () => {
    const low = leadSheet(harmony("C") + note("C3", 8) + note("E3", 8));
    const { lead, said } = await arranged([], low);
    expect(said).toContain("octave");
    expect(melodyText(lead)[0]).toBe("1:1 C3 2");
    expect(said).not.toContain("The lead sheet");
    expect((await arranged(["--key", "D", "--lead", "drop"])).said).not.toContain("The lead sheet");
  });

  test("a fret that a player changed there is still kept", async () => {
    const { text } = await arranged(["--key", "D"]);
    const frets = [...text.matchAll(/<fret>(\d+)<\/fret>/g)].map(([, fret]) => Number(fret));
    expect(frets.length).toBeGreaterThan(3);
    const again = await arranged(["--texture", "fluent"], text);
    expect([...again.text.matchAll(/<fret>(\d+)<\/fret>/g)].map(([, fret]) => Number(fret))).toEqual(frets);
  });

  test("a bass keeps its own name where its root has too many accidentals to keep its", async () => {
    const over = "<bass><bass-step>C</bass-step></bass>";
    const flats = harmony("C").replace("</root-step>", "</root-step><root-alter>-2</root-alter>");
    const sheet = leadSheet(
      harmony("C") +
        note("G4", 8) +
        flats.replace("C<", "F<").replace("</harmony>", `${over}</harmony>`) +
        note("C5", 8),
    );
    const { text } = await arranged(["--key", "Eb"], sheet);
    const basses = [...text.matchAll(/<bass-step>(.)<\/bass-step>(?:\s*<bass-alter>(-?\d+))?/g)];
    expect(basses.map(([, step, alter]) => `${step}${alter}`)).toEqual(["E-1", "E-1"]);
    expect((await arranged([], text)).text).toBe(text);
  });
});
