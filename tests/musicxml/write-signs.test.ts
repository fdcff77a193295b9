import { describe, expect, test } from "vitest";
import {
  attributeOf,
  childNamed,
  childrenNamed,
  childText,
  descendantAt,
  elementsOf,
  everyNamed,
  textOf,
  type XmlElement,
} from "../../src/xml/xml-tree.js";
import { isSchemaHere, schemaErrors } from "../support/schema.js";
import {
  attributes,
  backup,
  FOUR_FOUR,
  forward,
  harmony,
  leadSheet,
  note,
  offset,
  score,
} from "../support/score-text.js";
import {
  firstPart,
  tabPart,
  type WrittenScore,
  writtenScore,
  writtenTune,
} from "../support/written-score.js";

const UP_A_TONE = { semitones: 2, interval: "2M" };

/** Every chord symbol with its quarter of the whole part, whichever way it is placed. */
function symbolsOf(part: XmlElement): readonly string[] {
  let [divisions, start, furthest] = [1, 0, 0];
  return childrenNamed(part, "measure").flatMap((measure) => {
    let cursor = start;
    const found: string[] = [];
    for (const child of elementsOf(measure)) {
      if (child.name === "attributes") divisions = Number(childText(child, "divisions") ?? divisions);
      const quarters = Number(childText(child, "duration") ?? 0) / divisions;
      if (child.name === "harmony")
        found.push(`${cursor + Number(childText(child, "offset") ?? 0) / divisions} ${symbolText(child)}`);
      if (child.name === "backup") cursor -= quarters;
      else if (childNamed(child, "chord") === undefined) cursor += quarters;
      furthest = Math.max(furthest, cursor);
    }
    start = furthest;
    return found;
  });
}

const symbolText = (symbol: XmlElement): string =>
  ["root", "kind", "bass"]
    .flatMap((name) => childrenNamed(symbol, name))
    .map((one) => (one.name === "kind" ? textOf(one) : toneText(one)))
    .join(" ");

const toneText = (tone: XmlElement): string =>
  `${tone.name === "bass" ? "/" : ""}${childText(tone, `${tone.name}-step`)}${childText(tone, `${tone.name}-alter`) ?? ""}`;

const count = (part: XmlElement, name: string): number => [...everyNamed(part, name)].length;

const wordsOf = (part: XmlElement): readonly string[] => [...everyNamed(part, "words")].map(textOf);

describe("Chord symbols", () => {
  test("keep their times: before the bar's note, in the middle of one, by offset and by forward", () => {
    const lead = leadSheet(
      harmony("C") + harmony("F", "major", offset(8)) + note("G4", 16),
      note("A4", 16) + backup(16) + forward(12) + harmony("G", "dominant") + forward(4),
    );
    expect(symbolsOf(firstPart(writtenScore(lead)))).toEqual(["0 C major", "2 F major", "7 G dominant"]);
  });

  test("in the middle of a melody note stand before the chord that is struck there", () => {
    const written = writtenTune("[C] [G7@2] G4/1", {
      supports: [{ pitch: "B3", string: 3, finger: 1, from: 2, to: 4 }],
    });
    expect(symbolsOf(firstPart(written))).toEqual(["0 C major", "2 G dominant"]);
    expect(count(firstPart(written), "offset")).toBe(0);
  });

  test("move with the tune, root and bass, and are not written on the TAB too", () => {
    const written = writtenTune("[C] G4/2 [Am/E] A4/2", { transposition: UP_A_TONE });
    expect(symbolsOf(firstPart(written))).toEqual(["0 D major", "2 B minor /F1"]);
    expect(count(tabPart(written), "harmony")).toBe(0);
  });

  test("of a transposing instrument are written as they sound", () => {
    const transposing = attributes(
      `<key><fifths>2</fifths></key>${FOUR_FOUR}<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`,
    );
    const bar = `${transposing}${harmony("D")}${note("F#4", 8)}${harmony("D", "none")}${note("A4", 8)}`;
    const part = firstPart(writtenScore(score([{ bars: [bar] }])));
    expect(symbolsOf(part)).toEqual(["0 C major", "2 C none"]);
    expect([...everyNamed(part, "fifths")].map(textOf)).toEqual(["0"]);
    expect([...everyNamed(part, "pitch")].map((pitch) => elementsOf(pitch).map(textOf).join(""))).toEqual([
      "E4",
      "G4",
    ]);
  });

  test("keep degrees, texts and what is printed; unlisted kinds are written as what they were read as", () => {
    const degree =
      "<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>";
    const lead = leadSheet(
      harmony("G", "dominant", degree, 'print-object="no"') +
        note("G4", 8) +
        harmony("A", "min7") +
        note("A4", 8),
    );
    const written = writtenScore(lead);
    const [first, second] = [...everyNamed(firstPart(written), "harmony")];
    expect(first && attributeOf(first, "print-object")).toBe("no");
    expect(first && descendantAt(first, "degree", "degree-alter")).toBeDefined();
    expect(second && childText(second, "kind")).toBe("minor-seventh");
    expect(second && attributeOf(childNamed(second, "kind") ?? second, "text")).toBe("min7");
  });

  test("that the lead sheet has as words are written as symbols, and the words are not repeated", () => {
    const words = (text: string) =>
      `<direction placement="above"><direction-type><words>${text}</words></direction-type></direction>`;
    const part = firstPart(
      writtenScore(leadSheet(words("C") + note("G4", 8) + words("Am7") + note("A4", 8))),
    );
    expect(symbolsOf(part)).toEqual(["0 C major", "2 A minor-seventh"]);
    expect(wordsOf(part)).toEqual([]);
  });
});

describe("Chord diagrams", () => {
  const diagram = (written: WrittenScore) => {
    const [frame] = [...everyNamed(firstPart(written), "frame")];
    if (frame === undefined) throw new Error("no diagram");
    return {
      head: ["frame-strings", "frame-frets", "first-fret"].map((name) => childText(frame, name)),
      notes: childrenNamed(frame, "frame-note").map((one) =>
        elementsOf(one)
          .map((part) => textOf(part) || attributeOf(part, "type"))
          .join(" "),
      ),
    };
  };

  test("show the grip that is struck at the symbol, frets absolute, fingers and barre with it", () => {
    const written = writtenTune(
      "[C] C5/1",
      {
        supports: [
          { pitch: "G4", string: 2, finger: 1, from: 0, to: 4 },
          { pitch: "E4", string: 3, finger: 2, from: 0, to: 4 },
          { pitch: "Bb3", string: 4, finger: 1, from: 0, to: 4 },
        ],
        barres: [{ at: 0, barre: { finger: 1, fret: 8, from: 4, to: 1 } }],
      },
      { diagrams: true },
    );
    expect(diagram(written)).toEqual({
      head: ["6", "4", "8"],
      notes: ["4 8 1 start", "3 9 2", "2 8 1", "1 8 1 stop"],
    });
  });

  test("in the first four frets start at the nut", () => {
    const written = writtenTune(
      "[C] E4/1",
      { supports: [{ pitch: "C4", string: 2, from: 0, to: 4 }] },
      { diagrams: true },
    );
    expect(diagram(written)).toEqual({ head: ["6", "4", undefined], notes: ["2 1 1", "1 0"] });
  });

  test("are left out where no grip is struck, and where none are asked for", () => {
    expect(count(firstPart(writtenTune("[C] E4/1", {}, { diagrams: true })), "frame")).toBe(0);
    const grip = { supports: [{ pitch: "C4", string: 2, from: 0, to: 4 }] };
    expect(count(firstPart(writtenTune("[C] E4/1", grip)), "frame")).toBe(0);
  });
});

describe("Keys, meters and accidentals", () => {
  const accidentals = (written: WrittenScore) =>
    [...everyNamed(firstPart(written), "note")].map((one) => childText(one, "accidental"));

  test("A key moves with the tune, also where it changes", () => {
    const key = (fifths: number) => `<key><fifths>${fifths}</fifths><mode>major</mode></key>`;
    const lead = score([
      {
        bars: [
          attributes(key(0) + FOUR_FOUR) + harmony("C") + note("G4", 16),
          `<attributes>${key(-3)}</attributes>${note("G4", 16)}`,
        ],
      },
    ]);
    const part = firstPart(writtenScore(lead, { transposition: UP_A_TONE }));
    expect([...everyNamed(part, "key")].map((one) => elementsOf(one).map(textOf))).toEqual([
      ["2", "major"],
      ["-1", "major"],
    ]);
  });

  test("A key that lists its accidentals moves step by step, and its notes need no others", () => {
    const key =
      "<key><key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-1</key-alter></key>";
    const bar = attributes(key + FOUR_FOUR) + harmony("C") + note("F#4", 8) + note("Bb4", 4) + note("B4", 4);
    const written = writtenScore(score([{ bars: [bar] }]), { transposition: UP_A_TONE });
    expect(
      [...everyNamed(firstPart(written), "key")].map((one) => elementsOf(one).map(textOf).join(" ")),
    ).toEqual(["G 1 C 0"]);
    expect(accidentals(written)).toEqual([undefined, undefined, "sharp"]);
  });

  test("A meter is copied as it stands, sums and changes too, and none is invented", () => {
    const additive = "<time><beats>3+2</beats><beat-type>8</beat-type></time>";
    const lead = score([
      {
        bars: [
          attributes(additive) + harmony("C") + note("G4", 10, { type: "" }),
          `<attributes>${FOUR_FOUR}</attributes>${note("G4", 16)}`,
        ],
      },
    ]);
    const part = firstPart(writtenScore(lead));
    expect([...everyNamed(part, "beats")].map(textOf)).toEqual(["3+2", "4"]);
    const free = score([{ bars: [attributes("") + harmony("C") + note("G4", 20, { type: "" })] }]);
    expect(count(firstPart(writtenScore(free)), "time")).toBe(0);
  });

  test("Notes outside the key have accidentals, once a bar, and again after a barline", () => {
    const written = writtenTune("[C] F#4/4 F#4/4 F4/4 G4/4 | F#4/1 | F4/1");
    expect(accidentals(written)).toEqual(["sharp", undefined, "natural", undefined, "sharp", undefined]);
  });

  test("A note tied over the barline has none; what is said in one voice holds for the other", () => {
    const tied = writtenTune("[C] F#4/1~ | F#4/2 F#4/2");
    expect(accidentals(tied)).toEqual(["sharp", undefined, "sharp"]);
    const voices = writtenTune("[C] F#4/2 G4/2", { supports: [{ pitch: "F#4", string: 2, from: 2, to: 3 }] });
    expect(accidentals(voices)).toEqual(["sharp", undefined, undefined]);
  });
});

describe("What stands around the notes", () => {
  test("Repeats and endings stand on both parts exactly as in the lead sheet", () => {
    const written = writtenTune("|: [C] G4/1 |1 A4/1 :|2 G4/1 ||");
    const barlines = (part: XmlElement) =>
      childrenNamed(part, "measure").map((measure) =>
        childrenNamed(measure, "barline").map((barline) => [
          attributeOf(barline, "location"),
          ...elementsOf(barline).map((one) => [
            one.name,
            textOf(one),
            attributeOf(one, "number"),
            attributeOf(one, "type"),
            attributeOf(one, "direction"),
          ]),
        ]),
      );
    const [lead] = childrenNamed(written.root, "part");
    const expected = lead && barlines(lead);
    expect(expected?.flat()).not.toEqual([]);
    expect(written.parts.map(barlines)).toEqual([expected, expected]);
  });

  test("Tempo, words, signs and jumps are copied once, without ids and without what belongs to the lead's instrument", () => {
    const lead = leadSheet(
      `<direction id="d1" placement="above"><direction-type><words default-y="20">Slow</words></direction-type><sound tempo="60" pan="20"/></direction>${harmony("C")}${note("G4", 8)}<direction><direction-type><octave-shift type="down" size="8"/></direction-type></direction>${note("A4", 8)}<direction><direction-type><coda/></direction-type><sound dacapo="yes"/></direction>`,
    );
    const written = writtenScore(lead);
    const part = firstPart(written);
    expect(wordsOf(part)).toEqual(["Slow"]);
    expect([...everyNamed(part, "sound")].map((sound) => [...sound.attributes.keys()])).toEqual([
      ["tempo"],
      ["dacapo"],
    ]);
    expect(count(part, "octave-shift")).toBe(0);
    expect(count(part, "coda")).toBe(1);
    expect([...everyNamed(part, "direction")].every((one) => attributeOf(one, "id") === undefined)).toBe(
      true,
    );
    expect(count(tabPart(written), "direction")).toBe(0);
    const [measure] = childrenNamed(part, "measure");
    expect(measure && elementsOf(measure).at(-1)?.name).toBe("direction");
  });

  test("Lyrics stand once: with the lead sheet, and without it whole on their note in the notation", () => {
    const lyric = (verse: string, text: string) =>
      `<lyric number="${verse}"><syllabic>single</syllabic><text>${text}</text><elision>‿</elision><text>so</text></lyric>`;
    const lead = leadSheet(
      harmony("C") + note("G4", 16, { after: lyric("1", "go") + lyric("part1verse2", "no") }),
    );
    const plan = { supports: [{ pitch: "C4", string: 2, from: 0, to: 4 }] };
    const written = writtenScore(lead, plan, { lead: "drop" });
    const [melody, support] = [...everyNamed(firstPart(written), "note")];
    expect(
      melody && childrenNamed(melody, "lyric").map((one) => elementsOf(one).map(textOf).join("|")),
    ).toEqual(["single|go|‿|so", "single|no|‿|so"]);
    expect(support && childrenNamed(support, "lyric")).toEqual([]);
    expect(count(tabPart(written), "lyric")).toBe(0);
    // Beside the lead sheet the words are there already.
    expect(count(firstPart(writtenScore(lead, plan)), "lyric")).toBe(0);
  });

  test("Slurs, articulations and fermatas are kept; another instrument's fingering is not", () => {
    const marks =
      '<notations><slur type="start"/><articulations><staccato/></articulations><fermata/><technical><fingering>5</fingering></technical></notations>';
    const part = firstPart(
      writtenScore(
        leadSheet(
          harmony("C") + note("G4", 16, { after: marks }),
          note("G4", 16, { after: '<notations><slur type="stop"/></notations>' }),
        ),
      ),
    );
    expect([count(part, "slur"), count(part, "staccato"), count(part, "fermata")]).toEqual([2, 1, 1]);
    expect([...everyNamed(part, "fingering")].map(textOf)).not.toContain("5");
  });

  test("Beams are the lead sheet's where they fit, else by the beat", () => {
    const beams = (written: WrittenScore) =>
      [...everyNamed(firstPart(written), "note")].map((one) =>
        childrenNamed(one, "beam").map(textOf).join(","),
      );
    const beam = (text: string) => ({ after: `<beam number="1">${text}</beam>` });
    const long = leadSheet(
      harmony("C") +
        note("G4", 2, beam("begin")) +
        note("A4", 2, beam("continue")) +
        note("G4", 2, beam("continue")) +
        note("A4", 2, beam("end")) +
        note("G4", 8),
    );
    expect(beams(writtenScore(long))).toEqual(["begin", "continue", "continue", "end", ""]);
    const bare = leadSheet(
      harmony("C") +
        note("G4", 2) +
        note("A4", 1) +
        note("G4", 1) +
        note("A4", 2) +
        note("G4", 2) +
        note("G4", 8),
    );
    expect(beams(writtenScore(bare))).toEqual(["begin", "continue,begin", "end,end", "begin", "end", ""]);
  });
});

describe("Barre marks", () => {
  const barre = (fret: number, from: number, to: number, finger: 1 | 3 = 1) => ({ finger, fret, from, to });
  const lines = (part: XmlElement) => [...everyNamed(part, "bracket")].map((one) => attributeOf(one, "type"));

  test("name the fret, half where few strings are stopped; one grip needs no line", () => {
    const part = firstPart(
      writtenTune("[C] G4/2 A4/2", {
        barres: [
          { at: 0, barre: barre(4, 6, 1) },
          { at: 2, barre: barre(9, 3, 1) },
        ],
      }),
    );
    expect(wordsOf(part)).toEqual(["CIV", "½CIX"]);
    expect(lines(part)).toEqual([]);
  });

  test("go on over a note that leaves the index finger where it is, and not over one that needs it", () => {
    const marks = (finger: 1 | 4) =>
      wordsOf(
        firstPart(
          writtenTune("[C] G4/4 B4/4 A4/2", {
            barres: [
              { at: 0, barre: barre(4, 6, 1) },
              { at: 2, barre: barre(4, 6, 1) },
            ],
            places: [
              { string: 1, fret: 4, finger: 1 },
              { string: 1, fret: 7, finger },
              { string: 1, fret: 4, finger: 1 },
            ],
          }),
        ),
      );
    expect(marks(4)).toEqual(["CIV"]);
    expect(marks(1)).toEqual(["CIV", "CIV"]);
  });

  test("are one mark while the barre stays, however many strings it stops, over the barline too", () => {
    const part = firstPart(
      writtenTune("[C] G4/2 A4/2 | G4/1", {
        barres: [
          { at: 0, barre: barre(5, 3, 1) },
          { at: 2, barre: barre(5, 5, 1) },
          { at: 4, barre: barre(5, 2, 1) },
        ],
      }),
    );
    expect(wordsOf(part)).toEqual(["CV"]);
    expect(lines(part)).toEqual(["start", "stop"]);
  });

  test("are for the index finger; the others show by their digits", () => {
    const part = firstPart(writtenTune("[C] G4/1", { barres: [{ at: 0, barre: barre(5, 3, 2, 3) }] }));
    expect(wordsOf(part)).toEqual([]);
  });
});

describe("Fingers", () => {
  test("stand on every stopped note where it is struck, not where it is tied over, not on open strings", () => {
    const written = writtenTune("[C] G4/1~ | G4/2 E4/2");
    expect(
      [...everyNamed(firstPart(written), "note")].map((one) => {
        const technical = descendantAt(one, "notations", "technical");
        return technical && childText(technical, "fingering");
      }),
    ).toEqual(["1", undefined, undefined]);
  });
});

test.skipIf(!isSchemaHere)("odd inputs go out valid where they came in valid", () => {
  const lead = score([
    {
      bars: [
        `${attributes(`<key><key-step>F</key-step><key-alter>1</key-alter></key>${FOUR_FOUR}`)}<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>${harmony("C", "major", "<inversion>1</inversion><frame><frame-strings>4</frame-strings><frame-frets>4</frame-frets><frame-note><string>1</string><fret>3</fret></frame-note></frame>")}${note("G4", 16)}`,
        `<sound tempo="90"/>${note("G4", 8)}<barline location="middle"><bar-style>dashed</bar-style></barline>${note("A4", 8)}<direction><direction-type><dynamics><p/></dynamics></direction-type><offset>-2</offset><staff>1</staff></direction>`,
      ],
    },
  ]);
  expect(schemaErrors(lead)).toBe("");
  for (const staves of ["parts", "joined", "tab"])
    expect(schemaErrors(writtenScore(lead, { transposition: UP_A_TONE }, { staves }).text)).toBe("");
});
