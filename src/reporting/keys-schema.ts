import { FINDING_SCHEMA, REPORT_SCHEMA } from "./report-schema.js";

/** JSON Schema (draft 7) of a survey of the keys. */

const text = { type: "string" };
const count = { type: "integer", minimum: 0 };
const share = { type: "number", minimum: 0, maximum: 1 };
const cost = { ...count, description: "Effort in points; compares arrangements of one tune." };

const object = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: "object",
  additionalProperties: false,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});

const place = object(
  {
    semitones: { type: "integer", description: "From the written pitch, octaves included." },
    cost,
    hardestMove: REPORT_SCHEMA.properties.hardestMove,
    harmonised: { ...share, description: "Share of the melody notes with a chord, struck or ringing on." },
    openStrings: {
      type: "array",
      items: { type: "integer", minimum: 1 },
      description: "Open strings in use, 1 the highest.",
    },
    openMoments: { ...share, description: "Share of the moments at which an open string sounds." },
    ensemble: {
      ...object({
        bassKept: { ...share, description: "Share of the beats with the ensemble's bass lowest." },
        tonesKept: { ...share, description: "Share of the beats with every pitch class that is sung." },
        bassNotes: { ...count, description: "Notes of the bass." },
        bassOutOfReach: {
          ...count,
          description: "Notes of the bass that the strings do not have at their pitch.",
        },
      }),
      description:
        "What is kept of an ensemble, in the texture of the voices, or of a bass put under the tune.",
    },
  },
  ["hardestMove", "ensemble"],
);

const entry = object(
  {
    key: { type: "string", description: "In words, such as Eb major." },
    option: { type: "string", description: "The same as a value of the option key." },
    fits: { type: "boolean", description: "Whether the melody lies on its strings at some octave." },
    notesOutside: { ...count, description: "Melody notes off the strings, where the key does not fit." },
    places: { type: "array", items: place, description: "Each octave that fits, the cheapest first." },
    capo: {
      ...object({
        fret: count,
        shapes: { type: "string", description: "The key whose shapes the hand plays." },
        cost,
      }),
      description: "A capo that makes the first place cheaper, sounding the same.",
    },
  },
  ["notesOutside", "capo"],
);

export const KEYS_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "Survey of the keys of a tune",
  ...object(
    {
      title: text,
      key: { type: "string", description: "The key as written." },
      keys: { type: "array", minItems: 12, maxItems: 12, items: entry, description: "The easiest first." },
      findings: { type: "array", items: FINDING_SCHEMA },
    },
    ["title"],
  ),
};
