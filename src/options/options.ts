/** What can be asked about a score: an arrangement, a survey of its keys, a check of what is there, a mended copy. */
export type Question = "arrange" | "keys" | "check" | "mend";

interface OptionRow {
  readonly type: "string" | "boolean" | "integer" | "number";
  readonly enum?: readonly string[];
  readonly pattern?: string;
  readonly minLength?: number;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly default: string | number | boolean | undefined;
  readonly description: string;
  /** Which tune is read, how it is arranged, how that is shown in the score or in the report. */
  readonly decides: "tune" | "music" | "score" | "report";
  /** Questions that go by it; the others refuse it. */
  readonly concerns: readonly Question[];
}

/**
 * Every option: type, range, default, sentence and what it is for in one table. The command line, the
 * JSON Schema, the help text and the docs are made from it.
 */
export const OPTIONS = {
  texture: {
    type: "string",
    enum: ["fluent", "full", "lean", "voices"],
    default: "fluent",
    description:
      "fluent: playable at the tempo, chords ringing on under moving melody, single notes where the hand cannot get there in time. full: every melody note has its chord, quick notes off the beat the one that rings on. lean: chords at chord changes and strong beats only. voices: for an ensemble; nothing sounds under the melody but the notes that its other voices sound there.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  level: {
    type: "string",
    enum: ["elementary", "intermediate", "advanced"],
    default: "advanced",
    description:
      "How much the left hand can do. elementary: three-note chords at chord changes and strong beats, up to fret 5, without barres. intermediate: up to fret 7, barres of three strings, small shifts. advanced: all of it. Each sets frets, reach, barres, notes, shift and texture, and gives way to those given beside it.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  key: {
    type: "string",
    pattern: "^(keep|best|[A-Ga-g](b|#)?m?)$",
    default: "keep",
    description:
      "keep the key of the lead sheet, take the best one for the guitar, or name a tonic such as Eb.",
    decides: "music",
    concerns: ["arrange"],
  },
  melody: {
    type: "string",
    minLength: 1,
    default: "auto",
    description:
      "Part that carries the melody, by id or name, with :voice after it where wanted, or :top for its highest notes; top alone is the highest of the whole score; auto finds it.",
    decides: "tune",
    concerns: ["arrange", "keys", "check", "mend"],
  },
  chords: {
    type: "string",
    enum: ["written", "voices"],
    default: "written",
    description:
      "written: the chord symbols of the score; where there are none, and always with voices, chords are worked out from what its voices sound together.",
    decides: "tune",
    concerns: ["arrange", "keys"],
  },
  chordNames: {
    type: "string",
    enum: ["auto", "english", "german", "italian"],
    default: "auto",
    description:
      "Names that chords typed as text have: english, C to B; german, where H is B natural, B is B flat and small letters are minor; italian, Do to Si. auto finds out.",
    decides: "tune",
    concerns: ["arrange", "keys", "mend"],
  },
  tune: {
    type: "integer",
    minimum: 0,
    maximum: 999,
    default: 0,
    description: "Which tune to take of a file with several, counted from 1; 0 takes the whole file.",
    decides: "tune",
    concerns: ["arrange", "keys", "mend"],
  },
  lead: {
    type: "string",
    enum: ["keep", "drop"],
    default: "keep",
    description: "keep or drop the lead sheet's own parts beside the guitar.",
    decides: "score",
    concerns: ["arrange"],
  },
  leadKey: {
    type: "string",
    enum: ["guitar", "written"],
    default: "guitar",
    description:
      "Where the guitar plays in another key, the lead sheet beside it moves along to that of the guitar, or stays as written.",
    decides: "score",
    concerns: ["arrange"],
  },
  leadChords: {
    type: "boolean",
    default: false,
    description:
      "Write chords that were worked out from the voices over the part with the tune too, as chord symbols.",
    decides: "score",
    concerns: ["arrange"],
  },
  staves: {
    type: "string",
    enum: ["parts", "joined", "tab"],
    default: "parts",
    description: "parts: notation and TAB as two parts. joined: one part with two staves. tab: TAB only.",
    decides: "score",
    concerns: ["arrange"],
  },
  edits: {
    type: "string",
    enum: ["keep", "discard"],
    default: "keep",
    description:
      "What a player changed in a guitar part that came back is kept, and the rest stays as it was; or it is all arranged afresh with the options given.",
    decides: "score",
    concerns: ["arrange"],
  },
  diagrams: {
    type: "boolean",
    default: false,
    description: "Draw a chord diagram at each chord symbol.",
    decides: "score",
    concerns: ["arrange"],
  },
  tuning: {
    type: "string",
    pattern:
      "^([Ss]tandard|DADGAD|dadgad|([Dd]ouble-)?[Dd]rop-[Dd]|[Oo]pen-[DdGg]|[A-Ga-g](b|#)?-?[0-9]( *[, ] *[A-Ga-g](b|#)?-?[0-9]){3,11})$",
    default: "E2 A2 D3 G3 B3 E4",
    description:
      "Sounding open strings from the lowest up, such as D2 A2 D3 G3 B3 E4, or by name: standard, DADGAD, drop-D, double-drop-D, open-D, open-G.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  frets: {
    type: "integer",
    minimum: 5,
    maximum: 24,
    default: 15,
    description: "Highest fret a grip may use.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  capo: {
    type: "integer",
    minimum: 0,
    maximum: 11,
    default: 0,
    description: "Fret the capo sits at; TAB counts from it.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  scaleLength: {
    type: "number",
    minimum: 400,
    maximum: 900,
    default: 650,
    description: "Vibrating string length in millimetres.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  hand: {
    type: "number",
    minimum: 0.85,
    maximum: 1.15,
    default: 1,
    description: "Hand size against an average one; spans scale with it.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  reach: {
    type: "number",
    minimum: 0.6,
    maximum: 1,
    default: 1,
    description: "Share of its widest reach that the hand may use between two fingers.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  barres: {
    type: "string",
    enum: ["all", "partial", "none"],
    default: "all",
    description:
      "all: as wide as a hand lays them. partial: the index finger across up to three strings. none: no barre.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  strings: {
    type: "string",
    pattern: "^[1-9]([-,][1-9])*$",
    default: "1-3",
    description: "Strings the melody may use, 1 being the highest: 1-3, 1,2.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  notes: {
    type: "string",
    enum: ["auto", "3", "4"],
    default: "auto",
    description:
      "Notes in a grip, melody included; auto is three for triads, up to five with the root lowest, and four for larger chords, on the root where a hand has it; 3 and 4 take any inversion.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  rests: {
    type: "string",
    enum: ["silent", "struck"],
    default: "silent",
    description: "A chord change while the melody rests is left silent or struck on the lower strings.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  bass: {
    type: "string",
    enum: ["none", "roots", "fifths", "walking"],
    default: "none",
    description:
      "A bass under the chord melody, on the three lowest strings, in place of the texture: the root at each chord change and downbeat, root and fifth by turns, or a line that walks a beat at a time to the next root.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  rightHand: {
    type: "string",
    enum: ["either", "fingers", "pick"],
    default: "either",
    description:
      "What strikes the strings. fingers: strings apart from one another are as good as neighbours, and the score has p, i, m, a where they are not obvious. pick: neighbouring strings, or a brush through damped ones. either: nothing is taken for granted.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  restrike: {
    type: "string",
    enum: ["change", "bar", "strong-beat"],
    default: "bar",
    description:
      "How often the fluent texture strikes a chord that lasts again: at chord changes only, once a bar, or on every strong beat.",
    decides: "music",
    concerns: ["arrange", "keys"],
  },
  alternatives: {
    type: "integer",
    minimum: 0,
    maximum: 10,
    default: 3,
    description: "Other ways to play each moment that the report lists, with what they would cost.",
    decides: "report",
    concerns: ["arrange"],
  },
  shift: {
    type: "number",
    minimum: 50,
    maximum: 2000,
    default: 250,
    description: "Fastest the hand may travel along the neck, millimetres a second.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
  tempo: {
    type: "number",
    minimum: 10,
    maximum: 400,
    default: undefined,
    description: "Quarter notes a minute, in place of the score's own; without either, 100.",
    decides: "music",
    concerns: ["arrange", "keys", "check"],
  },
} as const satisfies Readonly<Record<string, OptionRow>>;

type Table = typeof OPTIONS;
export type OptionName = keyof Table;

type ValueOf<Row> = Row extends { readonly enum: readonly (infer Choice)[] }
  ? Choice
  : Row extends { readonly type: "boolean" }
    ? boolean
    : Row extends { readonly type: "integer" | "number" }
      ? number
      : string;

/** Options made whole: every row of the table is there. Only `tempo` may be absent: the score's own counts. */
export type ArrangeOptions = { readonly [Name in Exclude<OptionName, "tempo">]: ValueOf<Table[Name]> } & {
  readonly tempo: number | undefined;
};

/** Options that a question goes by. */
export type OptionFor<Asked extends Question> = {
  [Name in OptionName]: Asked extends Table[Name]["concerns"][number] ? Name : never;
}[OptionName];

const namesWhere = (isSo: (row: OptionRow) => boolean): readonly OptionName[] =>
  (Object.keys(OPTIONS) as OptionName[]).filter((name) => isSo(OPTIONS[name]));

const namesFor = <Asked extends Question>(question: Asked) =>
  namesWhere(({ concerns }) => concerns.includes(question)) as readonly OptionFor<Asked>[];

/** The options that each question goes by, in the order of the table. */
export const OPTIONS_FOR = {
  arrange: namesFor("arrange"),
  keys: namesFor("keys"),
  check: namesFor("check"),
  mend: namesFor("mend"),
  /** A sheet of an arrangement shows no score. */
  sheet: namesWhere(({ decides }) => decides === "tune" || decides === "music"),
} as const;

/** Options that decide how a tune is arranged, not which tune it is or how the arrangement is shown. */
export const MUSICAL_OPTIONS: readonly OptionName[] = namesWhere(({ decides }) => decides === "music");

export type TextureName = ArrangeOptions["texture"];

export type RightHand = ArrangeOptions["rightHand"];

/** How often a chord that lasts is struck again. */
export type Restrike = ArrangeOptions["restrike"];
