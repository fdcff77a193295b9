import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import { arrangeBytes } from "../../src/arrange-bytes.js";
import { checkScore } from "../../src/checking/check-score.js";
import { Findings, textOfFinding } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { readScore } from "../../src/read-score.js";
import { readScoreText } from "../../src/xml/container.js";
import { ensembleFromText } from "../support/ensemble-from-text.js";
import { leadSheetFromText } from "../support/lead-sheet-from-text.js";
import {
  attributes,
  backup,
  FOUR_FOUR,
  harmony,
  leadSheet,
  note,
  rest,
  score,
} from "../support/score-text.js";

const SAMPLES = fileURLToPath(new URL("../../sample-scores/", import.meta.url));

function arranged(xml: string, given: object): { readonly text: string; readonly said: readonly string[] } {
  const findings = new Findings();
  const bytes = new TextEncoder().encode(xml);
  const made = arrangeBytes(bytes, completeOptions(given), findings, { isCompressed: false });
  return { text: new TextDecoder().decode(made.bytes), said: findings.all.map(textOfFinding) };
}

/** Where a text differs, a list of its elements says so in few lines. */
const elementsIn = (xml: string): readonly string[] => xml.split(/(?=<)/);

/** What is written passes our own check and comes back, unedited, as it was; the text of it. */
function expectSound(xml: string, given: object = {}): string {
  const { text } = arranged(xml, given);
  const read = readScore(new TextEncoder().encode(text), new Findings());
  const checked = checkScore(read, completeOptions({}));
  const errors = checked.findings.filter(({ severity }) => severity === "error").map(textOfFinding);
  expect(errors).toEqual([]);
  expect(elementsIn(arranged(text, {}).text)).toEqual(elementsIn(text));
  return text;
}

test("a tune that leaps faster than a hand travels is no error of the score that plays it", () => {
  const tune = leadSheetFromText(`key: 0 major

[C] E4/16 E5/16 E4/16 E5/16 E4/4 E5/2 | [G7] D5/16 D4/16 D5/16 D4/16 G4/4 B4/2 ||`);
  for (const texture of ["fluent", "full", "lean"]) expectSound(tune, { tempo: 400, strings: "2", texture });
});

test("a melody that was asked for as the highest notes is what a score of ours is checked by", () => {
  const bars = [
    attributes(FOUR_FOUR) +
      harmony("C") +
      note("C5", 4, { voice: 1 }) +
      note("E4", 12, { voice: 1 }) +
      backup(16) +
      rest(8, { voice: 2 }) +
      note("G4", 8, { voice: 2 }),
    harmony("G") + note("D5", 16, { voice: 1 }),
  ];
  expectSound(score([{ bars }]), { melody: "top" });
});

test("words over a chord that was worked out from voices stand over the guitar too", () => {
  const voices = ensembleFromText(`title: Low Water
key: 0 major
time: 4/4

part: Soprano
G4/2 G4/2 | C5/1 ||

part: Alto
E4/2 F4/2 | E4/1 ||

part: Bass
C3/2 G3/2 | C3/1 ||`).replace(
    "<note>",
    '<direction placement="above"><direction-type><words>Largo</words></direction-type></direction><note>',
  );
  for (const leadChords of [false, true])
    expect(expectSound(voices, { leadChords }).match(/>Largo</g)).toHaveLength(2);
});

test("an ensemble's guitar score that stands alone as TAB is arranged again by its voices", () => {
  let came = 0;
  for (const name of readdirSync(SAMPLES)) {
    const { text } = readScoreText(readFileSync(`${SAMPLES}${name}`));
    if ((text.match(/<score-part /g) ?? []).length < 2) continue;
    came += 1;
    expectSound(text, { texture: "voices", lead: "drop", staves: "tab" });
  }
  expect(came).toBeGreaterThan(0);
});

test("an ensemble of which nothing sounds under the tune comes back as that tune alone", () => {
  const head = "title: Two Oars, One Boat\nkey: 0 major\ntime: 4/4\n\n";
  const bars = "C5/2 D5/2 | E5/1 ||";
  const inUnison = ["Flute", "Oboe"].map((name) => `part: ${name}\n${bars}`).join("\n\n");
  const above = `part: Oboe\n${bars.replaceAll("5/", "6/")}\n\npart: Flute\n${bars}`;
  for (const parts of [inUnison, above])
    for (const staves of ["parts", "joined", "tab"])
      for (const lead of ["keep", "drop"])
        expectSound(ensembleFromText(head + parts), { texture: "voices", melody: "Flute", staves, lead });
});

test("a chord root altered by a fraction moves to another key as it is read", () => {
  const half = harmony("E", "dominant").replace("</root-step>", "</root-step><root-alter>0.5</root-alter>");
  const tune = leadSheet(half + note("A4", 16), harmony("D") + note("D5", 16));
  for (const key of ["D", "A", "Eb"]) expectSound(tune, { key });
});

describe("a chord symbol that is not in MusicXML's own words moves to another key as it is read", () => {
  const inC = (symbol: string) =>
    leadSheet(
      harmony("C") + note("E4", 8) + note("G4", 8),
      symbol + note("A4", 8) + note("C5", 8),
      harmony("C") + note("C5", 16),
    );
  /** What is read over the second measure of the lead sheet that was moved to D major, and over the guitar. */
  const movedToD = (symbol: string) => {
    const text = expectSound(inC(symbol), { key: "D" });
    expectSound(inC(symbol), { key: "Ab" });
    const second = [...text.matchAll(/<measure number="2"[\s\S]*?<\/measure>/g)].map(([measure]) => measure);
    return second.slice(0, 2).map((measure) => /<harmony[\s\S]*?<\/harmony>/.exec(measure)?.[0]);
  };

  test.each(["a", "f#", "Bb", "H", "Es", "E♭", "bes"])("with a root and a bass called %s", (name) => {
    const called = harmony("C", "minor").replace(">C<", `>${name}<`);
    movedToD(called);
    movedToD(called.replace("</root-step>", "</root-step><root-alter>-1</root-alter>"));
    movedToD(harmony("C", "major", `<bass><bass-step>${name}</bass-step></bass>`));
    movedToD(called.replace("<harmony>", '<harmony type="alternate">') + harmony("F"));
    movedToD(
      called.replace("</harmony>", `<root><root-step>${name}</root-step></root><kind>major</kind></harmony>`),
    );
  });

  test.each([
    ["", "Am7"],
    ["", "m7"],
    ["other", "Am7"],
    ["other", "m7"],
    ["mystery", "Am7/C"],
    ["min7", "m7"],
  ])("with a kind %j that is printed %j", (kind, printed) => {
    const beside = (step: string) => harmony(step, kind).replace("<kind>", `<kind text="${printed}">`);
    const over = (step: string) =>
      harmony(step, kind).replace("<root-step>", `<root-step text="${printed}">`);
    for (const symbol of [beside("A"), beside("a"), over("A"), over("a")])
      for (const there of movedToD(symbol)) {
        expect(there).toContain("<root-step>B</root-step>");
        expect(there).toMatch(/<kind[^>]*>minor-seventh</);
        expect(there).not.toContain("Am7");
      }
  });

  test.each([
    ["Am7", ""],
    ["A\u2212\u2077", ""],
    ["Lam7", ""],
    ["Am7/C", "C"],
    ["m7/C", "C"],
    ["Am7", "C"],
  ])("with a listed kind and the old name %j printed in it or over its root", (printed, bass) => {
    const below = bass === "" ? "" : `<bass><bass-step text="">${bass}</bass-step></bass>`;
    const symbol = (root: string, kind: string) =>
      `<harmony><root><root-step${root}>A</root-step></root><kind${kind}>minor-seventh</kind>${below}</harmony>`;
    const [text, nothing] = [` text="${printed}"`, ' text=""'];
    for (const one of [symbol("", text), symbol(nothing, text), symbol(text, nothing), symbol(text, "")])
      for (const there of movedToD(one)) {
        expect(there).toContain("<root-step>B</root-step>");
        expect(there).toContain("<kind>minor-seventh</kind>");
        expect(there?.includes("<bass-step>D</bass-step>")).toBe(bass !== "");
      }
  });

  test("with a printed kind that names no note, which stays", () => {
    for (const [kind, printed] of [
      ["minor-seventh", "mi7"],
      ["dominant", "dom7"],
      ["major-sixth", "6/9"],
      ["augmented", "Aug"],
      ["major", ""],
    ]) {
      const symbol = harmony("A", kind).replace("<kind>", `<kind text="${printed}">`);
      for (const there of movedToD(symbol)) expect(there).toContain(`<kind text="${printed}">${kind}<`);
    }
  });

  test("with a word for no chord", () => {
    for (const kind of ["N.C.", "NC"])
      for (const there of movedToD(harmony("a", kind))) expect(there).toMatch(/<kind[^>]*>none</);
  });

  test("with a numeral in a key of its own", () => {
    const ownKey =
      "<numeral-key><numeral-fifths>1</numeral-fifths><numeral-mode>minor</numeral-mode></numeral-key>";
    const fifth = `<harmony><numeral><numeral-root>5</numeral-root>${ownKey}</numeral><kind>dominant</kind></harmony>`;
    for (const there of movedToD(fifth)) expect(there).toContain("<numeral-fifths>3</numeral-fifths>");
  });
});

describe("a chord that is a numeral is the chord of its key wherever it goes", () => {
  const signature = (fifths: number) => `<key><fifths>${fifths}</fifths><mode>major</mode></key>`;
  const CLARINET = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>";
  const fifthDegree = (own = "") =>
    `<harmony><numeral><numeral-root text="V">5</numeral-root>${own}</numeral><kind>dominant</kind></harmony>`;
  const inKeyOf = (fifths: number, mode: string) =>
    fifthDegree(
      `<numeral-key><numeral-fifths>${fifths}</numeral-fifths><numeral-mode>${mode}</numeral-mode></numeral-key>`,
    );
  /** It is played as the symbol is that names the chord. */
  const expectAlike = (numerals: string, named: string) => {
    for (const key of ["keep", "F#", "Db", "Ab", "E"])
      for (const lead of ["keep", "drop"]) {
        const played = [numerals, named].map((xml) => {
          const text = expectSound(xml, { key, lead });
          return text.slice(text.lastIndexOf("<part id"));
        });
        expect(elementsIn(played[0] ?? "")).toEqual(elementsIn(played[1] ?? ""));
      }
  };

  test.each(["", CLARINET])("in a key of its own, however many sharps or flats that has %#", (transpose) => {
    const bars = (symbol: string) => [
      attributes(signature(0) + FOUR_FOUR + transpose) + symbol + note("C#5", 8) + note("E5", 8),
      symbol + note("A#4", 16),
    ];
    const tune = (symbol: string) => score([{ bars: bars(symbol) }]);
    expectAlike(tune(inKeyOf(5, "major")), tune(harmony("F#", "dominant")));
    expectAlike(tune(inKeyOf(-6, "minor")), tune(harmony("Bb", "dominant")));
  });

  test.each(["", CLARINET])("where the key changes to one of many sharps %#", (transpose) => {
    const tune = (symbol: string) =>
      score([
        {
          bars: [
            attributes(signature(0) + FOUR_FOUR + transpose) + harmony("C") + note("C5", 8) + note("E5", 8),
            `<attributes>${signature(5)}</attributes>${symbol}${note("A#4", 16)}`,
          ],
        },
      ]);
    expectAlike(tune(fifthDegree()), tune(harmony("F#", "dominant")));
  });

  test("where the part with the chords is written in another key than the tune", () => {
    const tune = (symbol: string) =>
      score([
        { bars: [attributes(signature(-2) + FOUR_FOUR) + note("C5", 8) + note("Eb5", 8)] },
        { bars: [attributes(signature(0) + FOUR_FOUR + CLARINET) + symbol + rest(16)] },
      ]);
    expectAlike(tune(fifthDegree()), tune(harmony("G", "dominant")));
    const keyless = (symbol: string) => tune(symbol).replace(signature(0), "");
    expectAlike(keyless(fifthDegree()), keyless(harmony("G", "dominant")));
    const minor = (symbol: string) => tune(symbol).replace(">major<", ">minor<");
    expectAlike(minor(fifthDegree()), minor(harmony("G", "dominant")));
  });
});

test("a lead sheet of nothing but TAB and staves that are tuned like it stays the lead sheet", () => {
  const strings = ["D3", "G3", "A3", "E4"].map(
    (pitch, index) =>
      `<staff-tuning line="${index + 3}"><tuning-step>${pitch[0]}</tuning-step><tuning-octave>${pitch[1]}</tuning-octave></staff-tuning>`,
  );
  const tab = attributes("<clef><sign>TAB</sign><line>5</line></clef>");
  const tuned = attributes(
    `<clef><sign>G</sign><line>2</line></clef><staff-details><staff-lines>6</staff-lines>${strings.join("")}</staff-details>`,
  );
  const parts = [
    { bars: [tab + note("C3", 4)] },
    { bars: [tuned + note("A#3", 4) + note("B2", 2) + note("A3", 2)] },
  ];
  for (const key of ["keep", "Eb"])
    expect(expectSound(score(parts), { key, leadKey: "written" })).toContain('"lead":"keep"');
});

test("a guitar on open strings alone is told from a fingered part that plays the same and more", () => {
  const finger = (one: number) =>
    `<notations><technical><fingering>${one}</fingering></technical></notations>`;
  const bar = (pitch: string) =>
    harmony("A", "minor") +
    note("C4", 8, { after: finger(1) }) +
    note("C4", 8, { after: finger(1) }) +
    backup(16) +
    note(pitch, 16, { voice: 2, after: finger(3) });
  const sheet = score([{ bars: [attributes(FOUR_FOUR) + bar("E3"), bar("A3")] }]);
  expectSound(sheet, { tuning: "G4 C4 E4 A4", key: "keep" });
});

describe("a part written for another instrument moves to another key only where it is read there as the guitar plays", () => {
  const alto = (fifths: number) =>
    attributes(
      `<key><fifths>${fifths}</fifths></key>${FOUR_FOUR}<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>`,
    );
  const KEYS = ["A", "D", "Gb", "Cb", "F#", "C#", "Ab", "B"];
  const stays = (xml: string, key: string, why = "too many sharps or flats there") =>
    arranged(xml, { key }).said.some((line) => line.includes(why));

  test("whatever its notes are called", () => {
    const bars = [
      alto(-4) + harmony("C##", "major-sixth") + note("F##5", 8) + note("C##6", 8),
      harmony("G#") + note("G#5", 8) + note("E#5", 8),
    ];
    const sheet = score([{ bars }]);
    for (const key of KEYS) expectSound(sheet, { key });
    expect(KEYS.filter((key) => stays(sheet, key))).toContain("A");
  });

  test("also where only the part with the chord symbols is", () => {
    const bars = [attributes(`<key><fifths>-7</fifths></key>${FOUR_FOUR}`) + note("Cb5", 8) + note("Gb5", 8)];
    const chords = [alto(-4) + harmony("F##") + rest(8) + harmony("C##") + rest(8)];
    const sheet = score([{ bars }, { bars: chords }]);
    for (const key of KEYS) expectSound(sheet, { key });
  });

  test("in every key that its signature can be written in", () => {
    const bars = [
      alto(4) + harmony("E") + note("E5", 8) + note("G#5", 8),
      harmony("B", "dominant") + note("F#5", 16),
    ];
    const sheet = score([{ bars }]);
    for (const key of KEYS) expectSound(sheet, { key });
    expect(KEYS.filter((key) => stays(sheet, key))).toEqual(["F#", "C#", "B"]);
  });

  test("in the key that was asked for, whether its own is written or not", () => {
    const clarinet = (key: string) =>
      attributes(`${key}${FOUR_FOUR}<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`);
    const bars = (key: string) => [
      clarinet(key) + harmony("C") + note("E5", 8) + note("C5", 8),
      harmony("G", "dominant") + note("B4", 16),
    ];
    for (const key of ["keep", "D", "C", "Bb", "Eb", "A"])
      for (const leadKey of ["guitar", "written"]) {
        const [written, unwritten] = ["<key><fifths>0</fifths></key>", ""].map((own) => {
          const text = expectSound(score([{ bars: bars(own) }]), { key, leadKey });
          return elementsIn(text.slice(text.indexOf('<part id="P2"')));
        });
        expect(unwritten).toEqual(written);
      }
  });

  test("in a key that no signature can be written for", () => {
    for (const mode of ["major", "minor"]) {
      const bars = (fifths: number) => [
        attributes(`<key><fifths>${fifths}</fifths><mode>${mode}</mode></key>${FOUR_FOUR}`) +
          harmony("C", mode) +
          note("E5", 8) +
          note("C5", 8),
      ];
      for (const fifths of [-5, 0, 5])
        for (const key of ["G#", "D#", "Fb", "Db", "Cb", "Dbm", "B#m"])
          expectSound(score([{ bars: bars(fifths) }]), { key });
    }
  });

  test("with the accidentals that a key lists", () => {
    const listed = (one: string, alter: number) =>
      `<key><key-step>${one}</key-step><key-alter>${alter}</key-alter></key>`;
    const shift = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>";
    const bars = [
      attributes(listed("F", 1) + FOUR_FOUR + shift) + harmony("C") + note("F#5", 8) + note("C5", 8),
      harmony("G", "dominant") + note("B4", 16),
    ];
    const keysIn = (xml: string) =>
      [...xml.matchAll(/<key-step>(\w)<\/key-step>\s*<key-alter>(-?\d)/g)].map(([, ...said]) =>
        said.join(" "),
      );
    const staves = (key: string) => keysIn(expectSound(score([{ bars }]), { key, staves: "tab" }));
    expect(staves("keep")).toEqual(["F 1", "E 0"]);
    expect(staves("C")).toEqual(["G 1", "F 1"]);
    const beyond = [
      attributes(listed("B", 2) + FOUR_FOUR + shift) + harmony("C") + note("C5", 16),
      harmony("G", "dominant") + note("B4", 16),
    ];
    for (const key of KEYS) expectSound(score([{ bars: beyond }]), { key });
  });

  test("with quarter tones between its notes", () => {
    const bars = [-0.5, 0.5, 1.5].map(
      (alter) => harmony("C") + note("B4", 8, { alter: String(alter) }) + note("C5", 8),
    );
    const sheet = leadSheet(...bars);
    const keys = ["D", "Eb", "E", "F", "B"];
    for (const key of keys) for (const staves of ["parts", "tab"]) expectSound(sheet, { key, staves });
    expect(keys.filter((key) => stays(sheet, key, "quarter tones"))).toEqual(["Eb", "F", "B"]);
  });

  test("with quarter tones in the voices that its chords are worked out from", () => {
    const chords = ["Db5", "F4", "A4"].map(
      (pitch, voice) => (alter: string) =>
        note(pitch, 16, { voice: voice + 1, ...(pitch === "F4" && { alter }) }),
    );
    for (const alter of ["-0.5", "0.5", "1.5"]) {
      const bar = chords.map((one) => one(alter)).join(backup(16));
      const sheet = score([{ bars: [attributes(FOUR_FOUR) + bar, bar] }]);
      for (const key of ["A", "B", "D"]) expectSound(sheet, { key });
      expect(["A", "B", "D"].filter((key) => stays(sheet, key, "quarter tones"))).toEqual(["A", "B"]);
    }
  });
});
