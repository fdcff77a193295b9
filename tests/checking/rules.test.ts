import { describe, expect, test } from "vitest";
import { checkScore } from "../../src/checking/check-score.js";
import type { Finding } from "../../src/diagnostics.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { parseXml } from "../../src/xml/parse-xml.js";
import { guitarScoreText, type ScoreWishes } from "../support/guitar-score-text.js";

const checked = (xml: string, options: object = {}) => checkScore(parseXml(xml), completeOptions(options));

const findingsIn = (text: string, wishes: ScoreWishes = {}, options: object = {}): readonly Finding[] =>
  checked(guitarScoreText(text, wishes), options).findings;

/** Every finding as "severity rule". */
const said = (findings: readonly Finding[]): readonly string[] =>
  findings.map(({ severity, rule }) => `${severity} ${rule}`);

describe("nothing is wrong with", () => {
  test.each([
    ["an open chord that players know", "5:3:3+4:2:2+3:0+2:1:1+1:0/1"],
    ["a barre chord of four strings", "4:1:1+3:1:1+2:1:1+1:1:1/1"],
    ["four fingers on four frets in the fifth position", "4:8:4+3:7:3+2:6:2+1:5:1/1"],
    ["a melody that moves over a held third", "1:3:4/4 1:0/4 1:2:3/4 1:3:4/4 & 4:2:2/1"],
    ["a note tied over the barline", "2:5:1/2 2:5:1~/2 | 2:5:1/1"],
    ["melody and bass on one string and fret", "3:2:2/1 & 3:2:2/1"],
  ])("%s", (_, text) => {
    expect(said(findingsIn(text))).toEqual([]);
  });
});

describe("what cannot be done or is wrong is an error", () => {
  test.each([
    ["a fret that sounds another pitch", "1:3:3=Ab4/2 1:1:1/2", "fret-pitch-mismatch"],
    ["two notes struck on one string", "1:3:3+1:1:1/1", "string-taken"],
    ["a string struck while its note should ring", "1:3:3/1 & r/4 1:1:1/2.", "string-taken"],
    ["a fret that no neck has", "1:25:4/1", "out-of-range"],
    ["a string that the guitar lacks", "7:2:1=B2/1", "out-of-range"],
    ["one finger at two frets", "2:1:1+1:3:1/1", "finger-on-two-frets"],
    ["one finger at two frets, the first ringing on", "1:3:1/1 & r/2 2:1:1/2", "finger-on-two-frets"],
    ["the ring finger below the index finger", "2:3:1+1:1:3/1", "finger-order"],
    ["index and little finger seven frets apart", "2:1:1+1:8:4/1", "finger-reach"],
    ["a barre over a lower note", "3:1:1+2:0+1:1:1/1", "barre-impossible"],
    ["a little finger across five strings", "5:5:4+4:5:4+3:5:4+2:5:4+1:5:4/1", "barre-impossible"],
  ])("%s", (_, text, rule) => {
    expect(new Set(said(findingsIn(text)))).toEqual(new Set([`error ${rule}`]));
  });

  test.each([
    ["a barre where there are to be none", "2:5:1+1:5:1/1", { barres: "none" }, "barre-unwanted"],
    [
      "a barre of four strings where they are to be small",
      "4:5:1+3:5:1+2:5:1+1:5:1/1",
      { barres: "partial" },
      "barre-unwanted",
    ],
    [
      "four frets at the nut where the hand is to reach less",
      "2:1:1+1:4:4/1",
      { reach: 0.65 },
      "finger-reach",
    ],
    ["what the elementary level rules out", "2:1:1+1:4:4/1", { level: "elementary" }, "finger-reach"],
  ])("%s", (_, text, options, rule) => {
    expect(said(findingsIn(text))).not.toContain(`error ${rule}`);
    expect(said(findingsIn(text, {}, options))).toEqual([`error ${rule}`]);
  });

  test("five strings at five frets, whatever fingers are taken", () => {
    const findings = said(findingsIn("6:1+5:2+4:3+3:4+2:5/1"));
    expect(findings).toEqual(["note fingers-missing", "error too-many-fingers"]);
  });

  test("strings without fingers further apart than a hand", () => {
    expect(said(findingsIn("2:1+1:12/1"))).toEqual(["note fingers-missing", "error finger-reach"]);
  });

  test("a string left over for which the given fingers leave none", () => {
    // The index finger is at fret 2 already, and nothing lies below it.
    expect(said(findingsIn("3:2:1+2:1/1"))).toEqual(["warning finger-missing", "error grip-impossible"]);
  });

  test("a TAB note without string and fret", () => {
    expect(said(findingsIn("1:3:3/2 F4/2"))).toEqual(["error string-fret-missing"]);
  });

  test("every pitch an octave from its string and fret is said once", () => {
    const findings = findingsIn("1:3:3=G5/2 1:1:1=F5/2", { layout: "tab" });
    expect(said(findings)).toEqual(["error fret-pitch-mismatch"]);
    expect(findings[0]?.hint).toContain("octave");
  });

  test("frets counted from a capo that the score does not state", () => {
    const text = guitarScoreText("1:3:3/2 2:5:1/2", { capo: 2 }).replace("<capo>2</capo>", "");
    expect(said(checked(text).findings)).toEqual(["error fret-pitch-mismatch"]);
    expect(said(checked(text, { capo: 2 }).findings)).toEqual([]);
  });

  test("a note above the melody of the lead sheet", () => {
    const findings = findingsIn("2:1:1+1:3:4/4 1:0/4 1:1:1/4 1:3:4/4", { lead: "C4 E4 F4 G4" });
    expect(said(findings)).toEqual(["error melody-not-on-top"]);
    expect(findings[0]?.place).toMatchObject({ measure: 1, beat: 1 });
  });
});

describe("notation without TAB", () => {
  test("a chord that strings can be found for is left in peace", () => {
    expect(said(findingsIn("C3:3+E3:2+G3+C4:1+E4/1", { layout: "notation" }))).toEqual([
      "note tuning-assumed",
    ]);
  });

  test.each([
    ["two pitches that only the lowest string has", "E2+F#2/1", "no-placement"],
    ["two pitches for which one finger has to be at two frets", "C4:4+D4:4/1", "no-placement"],
    ["a pitch below the lowest string", "C2/1", "out-of-range"],
    ["a pitch above the last fret", "F6/1", "out-of-range"],
  ])("%s", (_, text, rule) => {
    expect(said(findingsIn(text, { layout: "notation" }))).toEqual(["note tuning-assumed", `error ${rule}`]);
  });

  test("what is out of reach in one tuning can be played in another", () => {
    const low = { layout: "notation" } as const;
    const drop = { tuning: "D2 A2 D3 G3 B3 E4" };
    expect(said(findingsIn("D2/1", low))).toContain("error out-of-range");
    expect(said(findingsIn("D2/1", low, drop))).toEqual(["note tuning-assumed"]);
  });
});

describe("what is hard is a warning", () => {
  test.each([
    ["a stretch over five frets at the nut", "2:1:1+1:5:4/1", "finger-stretch"],
    ["a barre across all strings", "6:1:1+5:1:1+4:1:1+3:1:1+2:1:1+1:1:1/1", "barre-wide"],
    ["a stopped string without a finger", "1:3:3/2 1:1/2", "finger-missing"],
    ["the lower note of a semitone under the melody", "2:6:1+1:0/1", "clash-under-melody"],
    ["a minor ninth under the melody", "4:2:3+1:1:1/1", "clash-under-melody"],
  ])("%s", (_, text, rule) => {
    expect(said(findingsIn(text))).toEqual([`warning ${rule}`]);
  });

  test("a move that is faster than the hand may travel", () => {
    const wishes = { tempo: 120 };
    expect(said(findingsIn("1:1:1/4 1:12:1/4 r/2", wishes))).toEqual(["warning move-too-fast"]);
    expect(said(findingsIn("1:1:1/4 1:12:1/4 r/2", wishes, { shift: 600 }))).toEqual([]);
    expect(said(findingsIn("1:1:1/4 1:12:1/4 r/2", wishes, { tempo: 50 }))).toEqual([]);
  });

  test("a move along the neck that is faster than any hand, which a slower one would not be", () => {
    const findings = findingsIn("1:1:1/8 1:12:1/8 r/2.", { tempo: 300 });
    expect(said(findings)).toEqual(["warning move-too-fast"]);
    // 12 frets less one: 325.0 - 36.5 mm; an eighth at 300 is a tenth of a second.
    expect(findings[0]?.found).toBe("289 mm in 0.10 s");
  });

  test("open strings give the hand time to travel", () => {
    expect(said(findingsIn("1:1:1/4 1:0/4 1:0/4 1:12:1/4", { tempo: 120 }))).toEqual([]);
  });

  test("a repeat takes the hand back as fast as it says", () => {
    const text = guitarScoreText("1:1:1/2 1:0/2 | 1:0/2 1:0/4 1:12:1/4", { tempo: 120 }).replaceAll(
      /(<measure number="2">.*)(<\/measure>)/g,
      '$1<barline location="right"><repeat direction="backward"/></barline>$2',
    );
    const { findings } = checked(text);
    expect(said(findings)).toEqual(["warning move-too-fast"]);
    expect(findings[0]?.place).toMatchObject({ measure: 1, beat: 1 });
  });

  test("a melody note of the lead sheet that is not struck, and one that is cut short", () => {
    const lead = "G4/4 F4/4 E4/2 | G4/1";
    expect(said(findingsIn("1:3:3/4 r/4 1:0/2 | 1:3:3/1", { lead }))).toEqual(["warning melody-missing"]);
    expect(said(findingsIn("1:3:3/4 1:1:1/4 1:0/2 | 1:3:3/2 r/2", { lead }))).toEqual([
      "warning melody-length",
    ]);
  });

  test("a lead sheet in another key counts as moved", () => {
    const lead = "F4/4 Eb4/4 D4/2 | F4/1";
    expect(said(findingsIn("1:3:3/4 1:1:1/4 1:0/2 | 1:3:3/1", { lead }))).toEqual([]);
  });

  test("a lower voice that crosses the upper one", () => {
    const text = "1:3:4/2 1:0/2 | 1:0/1 & 4:2:2/2 2:8:4/2";
    expect(said(findingsIn(text))).toContain("warning melody-not-on-top");
  });
});

describe("what is worth knowing is a note", () => {
  test.each([
    ["a seventh chord without its seventh", "[G7] 4:0+3:0+2:0/1", "guide-tones-missing"],
    ["a fret above those wanted", "1:17:1/1", "fret-high"],
    ["no fingers anywhere", "1:3/2 1:1/2", "fingers-missing"],
  ])("%s", (_, text, rule) => {
    expect(said(findingsIn(text))).toEqual([`note ${rule}`]);
  });

  test("the melody counts for the tone it stands for", () => {
    // G7 under E: the thirteenth stands for the fifth, third and seventh are there.
    expect(said(findingsIn("[G7] 4:3:2+3:4:3+1:0/1"))).toEqual([]);
  });

  test("a melody that passes over a chord a semitone below it", () => {
    expect(said(findingsIn("1:3:4/2 1:1:1/2 & 2:5:4=E4/1"))).toContain("note clash-under-melody");
  });

  test("a tuning that is not stated", () => {
    expect(said(findingsIn("1:3:3/1", { isTuningStated: false }))).toEqual(["note tuning-assumed"]);
  });
});

describe("notation and TAB that disagree", () => {
  /** The score with something changed in its TAB part alone. */
  const withTab = (text: string, from: string | RegExp, to: string) => {
    const [before = "", tab = ""] = guitarScoreText(text).split('<part id="T">');
    const changed = tab.replace(from, to);
    expect(changed).not.toBe(tab);
    return checked(`${before}<part id="T">${changed}`).findings;
  };
  const TEXT = "4:2:2+1:3:4/2 1:0/2 | 1:1:1~/1 | 1:1:1/1";

  test("a pitch", () => {
    const findings = withTab(
      TEXT,
      "<step>E</step><alter>0</alter><octave>4</octave>",
      "<step>D</step><alter>0</alter><octave>4</octave>",
    );
    expect(said(findings)).toEqual(["error staves-disagree", "error fret-pitch-mismatch"]);
    expect(findings[0]?.message).toBe("The notation says E4, the TAB D4.");
    expect(findings[0]?.place).toMatchObject({ measure: 1, beat: 3 });
  });

  test("a note that the TAB lacks", () => {
    const findings = withTab(
      TEXT,
      /<note><pitch><step>E<\/step><alter>0<\/alter><octave>4.*?<\/note>/,
      "<forward><duration>8</duration></forward>",
    );
    expect(said(findings)).toEqual(["error staves-disagree"]);
    expect(findings[0]?.found).toBe("E4 in the notation only");
  });

  test("a tie that the TAB has lost", () => {
    const findings = withTab(TEXT, '<tie type="start"/>', "");
    expect(findings.map(({ message }) => message)).toEqual([
      "The notation says 8 quarter notes, the TAB 4 quarter notes.",
      "F4 is in the TAB, and not in the notation.",
    ]);
  });

  test("a finger", () => {
    const findings = withTab(
      TEXT,
      "<string>1</string><fret>3</fret>",
      "<fingering>3</fingering><string>1</string><fret>3</fret>",
    );
    expect(findings.map(({ message }) => message)).toEqual(["The notation says finger 4, the TAB finger 3."]);
  });

  test("a whole staff that came back an octave higher is said once", () => {
    const [before = "", rest = ""] = guitarScoreText(TEXT).split('<part id="G">');
    const [notation = "", tab = ""] = rest.split('<part id="T">');
    const raised = notation.replace(/<octave>(\d)/g, (_, octave) => `<octave>${Number(octave) + 1}`);
    const findings = checked(`${before}<part id="G">${raised}<part id="T">${tab}`).findings;
    expect(said(findings)).toEqual(["error staves-disagree"]);
    expect(findings[0]?.message).toBe("The whole notation staff sounds 1 octave above the TAB.");
  });
});

test("a large hand reaches what an average one does not", () => {
  // Fret 2 to fret 7: 145.3 mm; index and little finger reach 127 mm, and 146 mm in the largest hand.
  expect(said(findingsIn("2:2:1+1:7:4/1", {}, { hand: 1 }))).toEqual(["error finger-reach"]);
  expect(said(findingsIn("2:2:1+1:7:4/1", {}, { hand: 1.15 }))).toEqual(["warning finger-stretch"]);
});
