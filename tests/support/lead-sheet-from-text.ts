import type { ChordSymbol, DegreeChange } from "../../src/song/chord-symbol.js";
import { type Letter, type Pitch, parsePitchName } from "../../src/song/pitch.js";

/**
 * A lead sheet as MusicXML 4.0 from a short text, so that tunes in tests and samples can be read and
 * written as music:
 *
 *     title: Two Geese
 *     key: 1 major          (sharps, or flats when negative)
 *     time: 3/4
 *     tempo: 120            (quarter notes a minute)
 *
 *     D4/4 |: [G] G4/2 B4/4"Hey" | [C] C5/2.~ | [D7] C5/4 r/2 |1 [G] G4/2. :|2 [G] G4/2. ||
 *
 * A note is a pitch and a value (1 2 4 8 16, dots, t for a triplet), ~ ties it on, quotes hold its
 * syllable. [Am7@2] is a chord two quarters after the place where it stands. |: and :| repeat, |1 and :|2
 * begin endings, || ends the section and an ending with it. A bar shorter than the meter is taken at the start and the end only.
 */
export function leadSheetFromText(text: string): string {
  const [head = "", body = ""] = text.split(/\n\s*\n(.*)/s);
  const fields = new Map(
    head.split("\n").map((line) => /^(\w+): *(.*)$/.exec(line)?.slice(1) as [string, string]),
  );
  const [beats = 4, beatType = 4] = (fields.get("time") ?? "4/4").split("/").map(Number);
  const [fifths = "0", mode = "major"] = (fields.get("key") ?? "0 major").split(" ");
  const sheet: Sheet = {
    beats,
    beatType,
    fifths: Number(fifths),
    mode,
    tempo: Number(fields.get("tempo") ?? 100),
  };
  const bars = withTieEnds(barsOf(body));
  const isPickup = lengthOf(bars[0]) < barLength(sheet);
  const measures = bars.map((bar, index) =>
    measureXml(bar, index, sheet, isPickup, index === bars.length - 1),
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0">
  <work>
    <work-title>${escaped(fields.get("title") ?? "Untitled")}</work-title>
  </work>
  <part-list>
    <score-part id="P1">
      <part-name>Melody</part-name>
    </score-part>
  </part-list>
  <part id="P1">
${measures.join("\n")}
  </part>
</score-partwise>
`;
}

interface Sheet {
  readonly beats: number;
  readonly beatType: number;
  readonly fifths: number;
  readonly mode: string;
  readonly tempo: number;
}

interface Bar {
  readonly tokens: readonly Token[];
  readonly startsRepeat: boolean;
  readonly endsRepeat: boolean;
  readonly endsSection: boolean;
  /** Ending that begins with this bar, and whether one ends with it. */
  readonly ending: string | undefined;
  readonly endsEnding: { readonly number: string; readonly isOpen: boolean } | undefined;
}

type Token =
  | {
      readonly kind: "chord";
      readonly symbol: ChordSymbol | undefined;
      readonly text: string;
      readonly offset: number;
    }
  | {
      readonly kind: "note";
      readonly pitch: Pitch | undefined;
      readonly type: string;
      readonly dots: number;
      readonly isTriplet: boolean;
      readonly ticks: number;
      readonly isTied: boolean;
      readonly isTieEnd: boolean;
      readonly syllable: string | undefined;
    };

/** Divides sixteenths and triplet eighths. */
const TICKS_PER_QUARTER = 12;

const TYPES: Readonly<Record<string, string>> = {
  "1": "whole",
  "2": "half",
  "4": "quarter",
  "8": "eighth",
  "16": "16th",
};

const barLength = ({ beats, beatType }: Sheet): number => (TICKS_PER_QUARTER * 4 * beats) / beatType;

const lengthOf = (bar: Bar | undefined): number =>
  (bar?.tokens ?? []).reduce((sum, token) => sum + (token.kind === "note" ? token.ticks : 0), 0);

// ---- reading ----

function barsOf(body: string): readonly Bar[] {
  const pieces = body.trim().split(/(\|\||:\|\d?|\|:|\|\d?)/);
  const bars: Bar[] = [];
  let opening = "";
  let running: string | undefined;
  for (let index = 0; index < pieces.length; index += 2) {
    const content = pieces[index]?.trim() ?? "";
    const closing = pieces[index + 1] ?? "";
    if (content !== "") {
      const begins = /\d$/.exec(opening)?.[0];
      running = begins ?? running;
      const isLastOfEnding =
        running !== undefined && (/^:\|/.test(closing) || /^\|\d/.test(closing) || closing === "||");
      bars.push({
        tokens: tokensOf(content),
        startsRepeat: opening === "|:",
        endsRepeat: closing.startsWith(":|"),
        endsSection: closing === "||",
        ending: begins,
        endsEnding:
          isLastOfEnding && running !== undefined ? { number: running, isOpen: closing === "||" } : undefined,
      });
      if (isLastOfEnding) running = undefined;
    }
    opening = closing;
  }
  return bars;
}

function withTieEnds(bars: readonly Bar[]): readonly Bar[] {
  let isTieEnd = false;
  return bars.map((bar) => ({
    ...bar,
    tokens: bar.tokens.map((token) => {
      if (token.kind === "chord") return token;
      const note = { ...token, isTieEnd };
      isTieEnd = token.isTied;
      return note;
    }),
  }));
}

const tokensOf = (content: string): readonly Token[] =>
  (content.match(/\[[^\]]*\]|[^\s"]+(?:"[^"]*")?/g) ?? []).map((word) =>
    word.startsWith("[") ? chordToken(word) : noteToken(word),
  );

function noteToken(word: string): Token {
  const [, name = "", value = "", dots = "", triplet, tie, syllable] =
    /^([A-G](?:b|#)*\d|r)\/(\d+)(\.*)(t?)(~?)(?:"(.*)")?$/.exec(word) ?? [];
  const type = TYPES[value];
  if (type === undefined) throw new Error(`not a note: ${word}`);
  const plain = (4 * TICKS_PER_QUARTER) / Number(value);
  const dotted = plain * (2 - 0.5 ** dots.length);
  return {
    kind: "note",
    pitch: name === "r" ? undefined : pitchOf(name),
    type,
    dots: dots.length,
    isTriplet: triplet === "t",
    ticks: triplet === "t" ? (dotted * 2) / 3 : dotted,
    isTied: tie === "~",
    isTieEnd: false,
    syllable,
  };
}

function pitchOf(name: string): Pitch {
  const parsed = parsePitchName(name);
  if (parsed === undefined) throw new Error(`not a pitch: ${name}`);
  return { ...parsed, octave: Number(name.slice(-1)) };
}

/** Chord texts after the root: kind, then degrees as type, value, alter. */
const CHORD_KINDS: Readonly<Record<string, readonly [kind: string, ...degrees: readonly string[]]>> = {
  "": ["major"],
  m: ["minor"],
  "+": ["augmented"],
  dim: ["diminished"],
  "7": ["dominant"],
  maj7: ["major-seventh"],
  m7: ["minor-seventh"],
  dim7: ["diminished-seventh"],
  m7b5: ["half-diminished"],
  "m(maj7)": ["major-minor"],
  "6": ["major-sixth"],
  m6: ["minor-sixth"],
  "6/9": ["major-sixth", "add 9 0"],
  "9": ["dominant-ninth"],
  maj9: ["major-ninth"],
  m9: ["minor-ninth"],
  "13": ["dominant-13th"],
  sus4: ["suspended-fourth"],
  sus2: ["suspended-second"],
  "7sus4": ["suspended-fourth", "add 7 0"],
  "7(b9)": ["dominant", "add 9 -1"],
  "7(#9)": ["dominant", "add 9 1"],
  "7(#5)": ["dominant", "alter 5 1"],
  "7(b5)": ["dominant", "alter 5 -1"],
  "7(#11)": ["dominant", "add 11 1"],
  "7(b9,b13)": ["dominant", "add 9 -1", "add 13 -1"],
  "maj7(#11)": ["major-seventh", "add 11 1"],
  "(add9)": ["major", "add 9 0"],
};

/** What is printed of a kind that has degrees, which are printed after it. */
const KIND_TEXTS: Readonly<Record<string, string>> = {
  major: "",
  dominant: "7",
  "major-seventh": "maj7",
  "major-sixth": "6",
  "suspended-fourth": "sus4",
};

function chordToken(word: string): Token {
  const [text = "", offset = "0"] = word.slice(1, -1).split("@");
  if (text === "N.C.") return { kind: "chord", symbol: undefined, text, offset: Number(offset) };
  const [, root = "", rest = "", bass] = /^([A-G](?:b|#)?)(.*?)(?:\/([A-G](?:b|#)?))?$/.exec(text) ?? [];
  const entry = CHORD_KINDS[rest];
  const rootName = parsePitchName(root);
  if (entry === undefined || rootName === undefined) throw new Error(`not a chord: ${word}`);
  const [kind, ...degrees] = entry;
  const symbol = {
    root: rootName,
    kind,
    degrees: degrees.map((degree) => {
      const [type, value, alter] = degree.split(" ");
      return { type: type as DegreeChange["type"], value: Number(value), alter: Number(alter) };
    }),
    bass: bass === undefined ? undefined : parsePitchName(bass),
  };
  return { kind: "chord", symbol, text: KIND_TEXTS[kind] ?? rest, offset: Number(offset) };
}

// ---- writing ----

const INDENT = "      ";

function measureXml(bar: Bar, index: number, sheet: Sheet, isPickup: boolean, isLast: boolean): string {
  const length = lengthOf(bar);
  const isShort = length !== barLength(sheet);
  if (isShort && !(length < barLength(sheet) && (index === 0 || isLast)))
    throw new Error(`bar ${index + 1} lasts ${length / TICKS_PER_QUARTER} quarters`);
  const number = isPickup ? index : index + 1;
  const lines = [
    `    <measure number="${number}"${isPickup && index === 0 ? ' implicit="yes"' : ""}>`,
    ...leftBarline(bar),
    ...(index === 0 ? openingXml(sheet) : []),
    ...notesXml(bar, sheet),
    ...rightBarline(bar, isLast),
    "    </measure>",
  ];
  return lines.join("\n");
}

function openingXml({ beats, beatType, fifths, mode, tempo }: Sheet): readonly string[] {
  const isCompound = beatType === 8 && beats % 3 === 0;
  const beatUnit = isCompound
    ? "<beat-unit>quarter</beat-unit><beat-unit-dot/>"
    : "<beat-unit>quarter</beat-unit>";
  return [
    "<attributes>",
    `  <divisions>${TICKS_PER_QUARTER}</divisions>`,
    `  <key><fifths>${fifths}</fifths><mode>${mode}</mode></key>`,
    `  <time><beats>${beats}</beats><beat-type>${beatType}</beat-type></time>`,
    "  <clef><sign>G</sign><line>2</line></clef>",
    "</attributes>",
    '<direction placement="above">',
    `  <direction-type><metronome>${beatUnit}<per-minute>${isCompound ? (tempo * 2) / 3 : tempo}</per-minute></metronome></direction-type>`,
    `  <sound tempo="${tempo}"/>`,
    "</direction>",
  ].map((line) => INDENT + line);
}

function leftBarline({ startsRepeat, ending }: Bar): readonly string[] {
  if (!startsRepeat && ending === undefined) return [];
  return [
    '<barline location="left">',
    ...(startsRepeat ? ["  <bar-style>heavy-light</bar-style>"] : []),
    ...(ending === undefined ? [] : [`  <ending number="${ending}" type="start"/>`]),
    ...(startsRepeat ? ['  <repeat direction="forward"/>'] : []),
    "</barline>",
  ].map((line) => INDENT + line);
}

function rightBarline({ endsRepeat, endsSection, endsEnding }: Bar, isLast: boolean): readonly string[] {
  if (!endsRepeat && !endsSection && !isLast && endsEnding === undefined) return [];
  return [
    '<barline location="right">',
    ...(endsRepeat || isLast
      ? ["  <bar-style>light-heavy</bar-style>"]
      : endsSection
        ? ["  <bar-style>light-light</bar-style>"]
        : []),
    ...(endsEnding === undefined
      ? []
      : [`  <ending number="${endsEnding.number}" type="${endsEnding.isOpen ? "discontinue" : "stop"}"/>`]),
    ...(endsRepeat ? ['  <repeat direction="backward"/>'] : []),
    "</barline>",
  ].map((line) => INDENT + line);
}

function notesXml(bar: Bar, sheet: Sheet): readonly string[] {
  const beams = beamsOf(bar, sheet);
  const tuplets = tupletEdges(bar);
  const altered = new Map<string, number>();
  return bar.tokens.flatMap((token, index) => {
    if (token.kind === "chord") return harmonyXml(token).map((line) => INDENT + line);
    const accidental =
      token.pitch === undefined || token.isTieEnd
        ? undefined
        : accidentalFor(token.pitch, sheet.fifths, altered);
    const marks = { accidental, beams: beams.get(index) ?? [], tuplet: tuplets.get(index) };
    return noteXml(token, marks).map((line) => INDENT + line);
  });
}

interface NoteMarks {
  readonly accidental: string | undefined;
  readonly beams: readonly string[];
  readonly tuplet: "start" | "stop" | undefined;
}

function noteXml(note: Extract<Token, { kind: "note" }>, marks: NoteMarks): readonly string[] {
  const ties = [...(note.isTieEnd ? ["stop"] : []), ...(note.isTied ? ["start"] : [])];
  const notations = [
    ...ties.map((type) => `<tied type="${type}"/>`),
    ...(marks.tuplet === undefined ? [] : [`<tuplet type="${marks.tuplet}"/>`]),
  ];
  return [
    "<note>",
    note.pitch === undefined ? "  <rest/>" : `  ${pitchXml(note.pitch)}`,
    `  <duration>${note.ticks}</duration>`,
    ...ties.map((type) => `  <tie type="${type}"/>`),
    "  <voice>1</voice>",
    `  <type>${note.type}</type>`,
    ...Array.from({ length: note.dots }, () => "  <dot/>"),
    ...(marks.accidental === undefined ? [] : [`  <accidental>${marks.accidental}</accidental>`]),
    ...(note.isTriplet
      ? [
          "  <time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>",
        ]
      : []),
    ...marks.beams.map((beam, level) => `  <beam number="${level + 1}">${beam}</beam>`),
    ...(notations.length === 0 ? [] : [`  <notations>${notations.join("")}</notations>`]),
    ...(note.syllable === undefined ? [] : [`  ${lyricXml(note.syllable)}`]),
    "</note>",
  ];
}

const pitchXml = ({ letter, alter, octave }: Pitch): string =>
  `<pitch><step>${letter}</step>${alter === 0 ? "" : `<alter>${alter}</alter>`}<octave>${octave}</octave></pitch>`;

/** "ri-" begins a word, "-ver" ends it, "-ri-" is inside. */
function lyricXml(syllable: string): string {
  const [begins, ends] = [syllable.startsWith("-"), syllable.endsWith("-")];
  const syllabic = begins && ends ? "middle" : begins ? "end" : ends ? "begin" : "single";
  return `<lyric number="1"><syllabic>${syllabic}</syllabic><text>${escaped(syllable.replace(/^-|-$/g, ""))}</text></lyric>`;
}

function harmonyXml(token: Extract<Token, { kind: "chord" }>): readonly string[] {
  const { symbol, offset } = token;
  const offsetXml = offset === 0 ? [] : [`  <offset>${offset * TICKS_PER_QUARTER}</offset>`];
  if (symbol === undefined)
    return [
      "<harmony>",
      '  <root><root-step text="">C</root-step></root>',
      '  <kind text="N.C.">none</kind>',
      ...offsetXml,
      "</harmony>",
    ];
  const { root, kind, degrees, bass } = symbol;
  const named = (word: string, { letter, alter }: { letter: Letter; alter: number }) =>
    `<${word}><${word}-step>${letter}</${word}-step>${alter === 0 ? "" : `<${word}-alter>${alter}</${word}-alter>`}</${word}>`;
  return [
    "<harmony>",
    `  ${named("root", root)}`,
    `  <kind text="${escaped(token.text)}">${kind}</kind>`,
    ...(bass === undefined ? [] : [`  ${named("bass", bass)}`]),
    ...degrees.map(
      ({ type, value, alter }) =>
        `  <degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`,
    ),
    ...offsetXml,
    "</harmony>",
  ];
}

const SHARPS_IN_ORDER = "FCGDAEB";
const ACCIDENTALS: Readonly<Record<string, string>> = {
  "-2": "flat-flat",
  "-1": "flat",
  "0": "natural",
  "1": "sharp",
  "2": "double-sharp",
};

/** The accidental to print, by the key and what stood in the bar before. */
function accidentalFor(
  { letter, alter, octave }: Pitch,
  fifths: number,
  altered: Map<string, number>,
): string | undefined {
  const order = SHARPS_IN_ORDER.indexOf(letter);
  const inKey = fifths > 0 && order < fifths ? 1 : fifths < 0 && 6 - order < -fifths ? -1 : 0;
  const place = `${letter}${octave}`;
  const current = altered.get(place) ?? inKey;
  altered.set(place, alter);
  return current === alter ? undefined : ACCIDENTALS[alter];
}

/** Eighths and shorter notes of one beat share a beam. */
function beamsOf(bar: Bar, sheet: Sheet): ReadonlyMap<number, readonly string[]> {
  const beat = sheet.beatType === 8 && sheet.beats % 3 === 0 ? 1.5 * TICKS_PER_QUARTER : TICKS_PER_QUARTER;
  const groups = new Map<number, { index: number; levels: number }[]>();
  let at = 0;
  bar.tokens.forEach((token, index) => {
    if (token.kind !== "note") return;
    const levels = token.type === "16th" ? 2 : token.type === "eighth" ? 1 : 0;
    const group = Math.floor(at / beat);
    if (levels > 0 && token.pitch !== undefined)
      groups.set(group, [...(groups.get(group) ?? []), { index, levels }]);
    at += token.ticks;
  });
  const beams = new Map<number, readonly string[]>();
  for (const group of groups.values()) {
    if (group.length < 2) continue;
    group.forEach(({ index, levels }, place) => {
      const word = (level: number) => {
        const before = (group[place - 1]?.levels ?? 0) > level;
        const after = (group[place + 1]?.levels ?? 0) > level;
        return before && after
          ? "continue"
          : after
            ? "begin"
            : before
              ? "end"
              : place === 0
                ? "forward hook"
                : "backward hook";
      };
      beams.set(
        index,
        Array.from({ length: levels }, (_, level) => word(level)),
      );
    });
  }
  return beams;
}

/** Triplets are three notes long, as values of their own. */
function tupletEdges(bar: Bar): ReadonlyMap<number, "start" | "stop"> {
  const edges = new Map<number, "start" | "stop">();
  let sounded = 0;
  bar.tokens.forEach((token, index) => {
    if (token.kind !== "note" || !token.isTriplet) return;
    if (sounded === 0) edges.set(index, "start");
    sounded += token.ticks;
    // A triplet fills a whole number of quarters (eighths) or halves (quarters).
    if (sounded % TICKS_PER_QUARTER === 0) {
      edges.set(index, "stop");
      sounded = 0;
    }
  });
  return edges;
}

const escaped = (text: string): string =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/"/g, "&quot;");
