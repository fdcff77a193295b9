/**
 * Every option of an arrangement: type, range, default and sentence in one table. The command line,
 * the JSON Schema, the help text and the docs are made from it.
 */
export const OPTIONS = {
  texture: {
    type: "string",
    enum: ["fluent", "full", "lean"],
    default: "fluent",
    description:
      "fluent: playable at the tempo, chords ringing on under moving melody, single notes where the hand cannot get there in time. full: every melody note has its chord, quick passing notes the one that rings on. lean: chords at chord changes and strong beats only.",
  },
  key: {
    type: "string",
    pattern: "^(keep|best|[A-Ga-g](b|#)?m?)$",
    default: "keep",
    description:
      "keep the key of the lead sheet, take the best one for the guitar, or name a tonic such as Eb.",
  },
  melody: {
    type: "string",
    minLength: 1,
    default: "auto",
    description:
      "Part that carries the melody, by id or name, with :voice after it where wanted, or :top for its highest notes; top alone is the highest of the whole score; auto finds it.",
  },
  chords: {
    type: "string",
    enum: ["written", "voices"],
    default: "written",
    description:
      "written: the chord symbols of the score; where there are none, and always with voices, chords are worked out from what its voices sound together.",
  },
  lead: {
    type: "string",
    enum: ["keep", "drop"],
    default: "keep",
    description: "keep or drop the lead sheet's own parts beside the guitar.",
  },
  staves: {
    type: "string",
    enum: ["parts", "joined", "tab"],
    default: "parts",
    description: "parts: notation and TAB as two parts. joined: one part with two staves. tab: TAB only.",
  },
  edits: {
    type: "string",
    enum: ["keep", "discard"],
    default: "keep",
    description:
      "What a player changed in a guitar part that came back is kept, and the rest stays as it was; or it is all arranged afresh with the options given.",
  },
  diagrams: { type: "boolean", default: false, description: "Draw a chord diagram at each chord symbol." },
  tuning: {
    type: "string",
    pattern: "^[A-Ga-g](b|#)?-?[0-9]( *[, ] *[A-Ga-g](b|#)?-?[0-9]){3,11}$",
    default: "E2 A2 D3 G3 B3 E4",
    description: "Sounding open strings from the lowest up, such as D2 A2 D3 G3 B3 E4.",
  },
  frets: {
    type: "integer",
    minimum: 5,
    maximum: 24,
    default: 15,
    description: "Highest fret a grip may use.",
  },
  capo: {
    type: "integer",
    minimum: 0,
    maximum: 11,
    default: 0,
    description: "Fret the capo sits at; TAB counts from it.",
  },
  scaleLength: {
    type: "number",
    minimum: 400,
    maximum: 900,
    default: 650,
    description: "Vibrating string length in millimetres.",
  },
  hand: {
    type: "number",
    minimum: 0.85,
    maximum: 1.15,
    default: 1,
    description: "Hand size against an average one; spans scale with it.",
  },
  strings: {
    type: "string",
    pattern: "^[1-9]([-,][1-9])*$",
    default: "1-3",
    description: "Strings the melody may use, 1 being the highest: 1-3, 1,2.",
  },
  notes: {
    type: "string",
    enum: ["auto", "3", "4"],
    default: "auto",
    description: "Notes in a grip, melody included; auto is three for triads and four for larger chords.",
  },
  rests: {
    type: "string",
    enum: ["silent", "struck"],
    default: "silent",
    description: "A chord change while the melody rests is left silent or struck on the lower strings.",
  },
  alternatives: {
    type: "integer",
    minimum: 0,
    maximum: 10,
    default: 3,
    description: "Other ways to play each moment that the report lists, with what they would cost.",
  },
  shift: {
    type: "number",
    minimum: 50,
    maximum: 2000,
    default: 250,
    description: "Fastest the hand may travel along the neck, millimetres a second.",
  },
  tempo: {
    type: "number",
    minimum: 10,
    maximum: 400,
    default: undefined,
    description: "Quarter notes a minute, in place of the score's own; without either, 100.",
  },
} as const;

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
