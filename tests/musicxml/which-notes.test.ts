import { describe, expect, test } from "vitest";
import { ScoreError } from "../../src/diagnostics.js";
import { OWN_MARK } from "../../src/musicxml/round-trip/provenance.js";
import { readText } from "../support/reading.js";
import {
  attributes,
  backup,
  FOUR_FOUR,
  harmony,
  leadSheet,
  note,
  type PartText,
  rest,
  score,
} from "../support/score-text.js";
import { chordText, melodyText } from "../support/tune-text.js";

const C = harmony("C");
const melodyOf = (xml: string, melody?: string) => melodyText(readText(xml, melody).tune);
const rules = (xml: string) => readText(xml).findings.all.map(({ rule }) => rule);
const part = (inner: string, more: Partial<PartText> = {}): PartText => ({
  bars: [attributes(FOUR_FOUR) + inner],
  ...more,
});

describe("Notes struck together", () => {
  test("give the top one, whose own length counts, and never move time", () => {
    const xml = leadSheet(C + note("C5", 8) + note("E5", 4, { chord: true }) + note("D5", 8));
    expect(melodyOf(xml)).toEqual(["1:1 E5 1", "1:3 D5 2"]);
    expect(readText(xml).source.written.map(({ kind }) => kind)).toEqual(["note", "rest", "note"]);
  });

  test("without a note before them are read as plain notes, with a warning", () => {
    const xml = leadSheet(C + note("C5", 8, { chord: true }) + note("D5", 8));
    expect(melodyOf(xml)).toEqual(["1:1 C5 2", "1:3 D5 2"]);
    expect(rules(xml)).toEqual(["chord-note-alone"]);
  });
});

describe("Voices", () => {
  test("the lowest voice is the tune although it is written second; its rests stay rests, with a warning for the rest", () => {
    const xml = leadSheet(
      C + note("E4", 16, { voice: 2 }) + backup(16) + note("C5", 8, { voice: 1 }) + rest(8, { voice: 1 }),
    );
    expect(melodyOf(xml)).toEqual(["1:1 C5 2"]);
    expect(rules(xml)).toEqual(["voices-left-out"]);
  });

  test("a voice that is there in few bars is not the tune", () => {
    const bar = (name: string) => note(name, 16, { voice: 5 });
    const xml = leadSheet(
      C + bar("C5") + backup(16) + note("E4", 16, { voice: 1 }),
      bar("D5"),
      bar("E5"),
      bar("F5"),
    );
    expect(melodyOf(xml)).toEqual(["1:1 C5 4", "2:1 D5 4", "3:1 E5 4", "4:1 F5 4"]);
  });

  test("another voice is the tune when it is asked for", () => {
    const xml = leadSheet(C + note("C5", 16, { voice: 1 }) + backup(16) + note("E4", 16, { voice: 2 }));
    expect(melodyOf(xml, "P1:2")).toEqual(["1:1 E4 4"]);
    expect(() => readText(xml, "P1:7")).toThrow(/it has 1, 2/);
  });
});

test("grace notes take no time and stay where they are; the chord is on the main note's beat", () => {
  const xml = leadSheet(
    C + note("D5", "", { before: "<grace/>", type: "<type>eighth</type>" }) + harmony("F") + note("C5", 16),
  );
  const { tune, source } = readText(xml);
  expect(melodyText(tune)).toEqual(["1:1 C5 4"]);
  expect(source.written.map(({ kind, length }) => [kind, length])).toEqual([
    ["grace", 0],
    ["note", tune.measures[0]?.length],
  ]);
});

test("cue and hidden notes take time and are silent", () => {
  const xml = leadSheet(
    C +
      note("C5", 4, { before: "<cue/>" }) +
      note("D5", 4, { attributes: 'print-object="no"' }) +
      note("E5", 8),
  );
  expect(melodyOf(xml)).toEqual(["1:3 E5 2"]);
});

test("a voice of hidden notes is not the tune", () => {
  const hidden = Array.from({ length: 8 }, () =>
    note("B4", 2, { voice: 1, attributes: 'print-object="no"' }),
  ).join("");
  expect(melodyOf(leadSheet(C + hidden + backup(16) + note("C5", 16, { voice: 2 })))).toEqual(["1:1 C5 4"]);
});

describe("Slashes", () => {
  const slash = (type: string) =>
    `<attributes><measure-style><slash type="${type}"/></measure-style></attributes>`;

  test("are no tune while they last", () => {
    const xml = leadSheet(C + slash("start") + note("B4", 16), slash("stop") + note("C5", 16));
    expect(melodyOf(xml)).toEqual(["2:1 C5 4"]);
  });

  test("by notehead are none either, and a part of nothing else is passed over", () => {
    const slashes = part(C + note("B4", 16, { after: "<notehead>slash</notehead>" }), { name: "Rhythm" });
    expect(melodyOf(score([slashes, part(note("C5", 16))]))).toEqual(["1:1 C5 4"]);
    expect(() => readText(score([slashes]))).toThrow(/no melody.*Rhythm/);
  });
});

test("a percussion part in front is passed over; alone it is an error that names it", () => {
  const drum = part(
    "<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>16</duration><type>whole</type></note>",
    { name: "Drums" },
  );
  expect(melodyOf(score([drum, part(C + note("C5", 16))]))).toEqual(["1:1 C5 4"]);
  expect(() => readText(score([drum]))).toThrow(/no melody.*Drums/);
});

test("chord symbols of another part serve the tune, bar by bar with that part's own divisions", () => {
  const chords: PartText = { bars: [attributes(FOUR_FOUR, 1) + C + rest(2) + harmony("F") + rest(2)] };
  const { tune } = readText(score([part(note("C5", 16)), chords]), "P1");
  expect(chordText(tune)).toEqual(["1:1 C major", "1:3 F major"]);
});

test("of several parts the one with the chord symbols has the tune, and its own symbols count", () => {
  const xml = score([part(note("C4", 16)), part(C + note("C5", 16)), part(harmony("D") + note("C6", 16))]);
  expect(melodyOf(xml)).toEqual(["1:1 C5 4"]);
  expect(chordText(readText(xml).tune)).toEqual(["1:1 C major"]);
  expect(chordText(readText(xml, "P3").tune)).toEqual(["1:1 D major"]);
});

test("parts are known by trimmed id, whatever the order of the list", () => {
  const xml = score([part(C + note("C5", 16), { id: "P2 ", name: "Voice" })]).replace(
    'part id="P2 "',
    'part id=" P2"',
  );
  expect(readText(xml).source).toMatchObject({ melodyPartId: "P2", melodyPartName: "Voice" });
  expect(rules(xml)).toEqual([]);
});

test("a part that is not in the list is read with a warning, an entry without a part ignored", () => {
  const xml = score([part(C + note("C5", 16))]).replace('score-part id="P1"', 'score-part id="P9"');
  expect(melodyOf(xml)).toEqual(["1:1 C5 4"]);
  expect(rules(xml)).toEqual(["part-not-listed"]);
});

test("a part may be asked for by name, a colon in it notwithstanding; an unknown one is an error that lists them", () => {
  const xml = score([
    part(C + note("C4", 16), { name: "Piano" }),
    part(note("C5", 16), { name: "Voice: high" }),
  ]);
  expect(melodyOf(xml, "voice: high")).toEqual(["1:1 C5 4"]);
  expect(melodyOf(xml, "Piano")).toEqual(["1:1 C4 4"]);
  expect(() => readText(xml, "Oboe")).toThrow(/P1 \(Piano\), P2 \(Voice: high\)/);
});

test("of a thousand parts the first are named and the rest are counted, and a name of a page is cut short", () => {
  const xml = score(Array.from({ length: 1000 }, () => part(note("C5", 16), { name: "x".repeat(5_000) })));
  let message = "";
  try {
    readText(xml, "Oboe");
  } catch (error) {
    message = (error as ScoreError).message;
  }
  expect(message).toMatch(/P40 \(x{80}…\) and 960 more\.$/);
});

describe("TAB", () => {
  const tab = (number: number) => `<clef number="${number}"><sign>TAB</sign><line>5</line></clef>`;

  test("as a second staff doubles nothing", () => {
    const bar =
      C + note("C5", 16, { staff: 1, voice: 1 }) + backup(16) + note("C5", 16, { staff: 2, voice: 5 });
    const xml = score([{ bars: [attributes(`${FOUR_FOUR}<staves>2</staves>${tab(2)}`) + bar] }]);
    expect(melodyOf(xml)).toEqual(["1:1 C5 4"]);
    expect(rules(xml)).toEqual([]);
  });

  test("as the first staff is passed over for the second", () => {
    const bar =
      C + note("C5", 16, { staff: 1, voice: 1 }) + backup(16) + note("D5", 16, { staff: 2, voice: 5 });
    expect(
      melodyOf(score([{ bars: [attributes(`${FOUR_FOUR}<staves>2</staves>${tab(1)}`) + bar] }])),
    ).toEqual(["1:1 D5 4"]);
  });

  test("as a part of its own is passed over, and read where there is nothing else", () => {
    const tabPart: PartText = { bars: [attributes(FOUR_FOUR + tab(1)) + C + note("C4", 16)] };
    expect(melodyOf(score([tabPart, part(note("C5", 16))]))).toEqual(["1:1 C5 4"]);
    expect(melodyOf(score([tabPart]))).toEqual(["1:1 C4 4"]);
  });

  test("without a staff number doubles nothing", () => {
    const xml = leadSheet(C + note("C5", 16) + backup(16) + note("C5", 16));
    expect(melodyOf(xml)).toEqual(["1:1 C5 4"]);
    expect(readText(xml).source.written).toHaveLength(1);
  });
});

test("lyrics stay on the notes they were written under", () => {
  const lyric =
    '<lyric number="part1verse2"><syllabic>single</syllabic><text>oh</text><elision/><text>my</text></lyric>';
  const { source } = readText(leadSheet(C + note("C5", 16, { after: lyric })));
  expect(
    source.written[0]?.element?.children.some((child) => child.kind === "element" && child.name === "lyric"),
  ).toBe(true);
});

describe("A score that was arranged here before", () => {
  const mark = (lead: string) =>
    `<identification><miscellaneous><miscellaneous-field name="${OWN_MARK}">{"parts":["P1","P2"],"lead":"${lead}"}</miscellaneous-field></miscellaneous></identification>`;
  const guitar = part(
    C +
      note("E4", 16, { voice: 2 }) +
      backup(16) +
      note("C5", 16, { voice: 1 }) +
      note("G4", 16, { voice: 1, chord: true }),
  );
  const tab: PartText = {
    bars: [attributes(`${FOUR_FOUR}<clef><sign>TAB</sign><line>5</line></clef>`) + note("C5", 16)],
  };

  test("keeps the guitar's parts out of the search while the lead sheet is there", () => {
    expect(melodyOf(score([guitar, tab, part(C + note("D5", 16))], mark("keep")))).toEqual(["1:1 D5 4"]);
  });

  test("takes the top notes of the guitar's first voice where the lead sheet is gone", () => {
    expect(melodyOf(score([guitar, tab], mark("drop")))).toEqual(["1:1 C5 4"]);
  });
});

test("a score without parts has no melody", () => {
  expect(() => readText("<score-partwise><part-list/></score-partwise>")).toThrow(ScoreError);
});

test("two notes of one voice never sound at once: the first ends where the second begins, with a warning", () => {
  const xml = leadSheet(C + note("C5", 16) + backup(8) + note("D5", 8));
  expect(melodyOf(xml)).toEqual(["1:1 C5 2", "1:3 D5 2"]);
  expect(rules(xml)).toEqual(["note-runs-on"]);
});
