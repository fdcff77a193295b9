import { OPTIONS } from "../options/options.js";

/** JSON Schema (draft 7) of a file of wishes. */

const measure = { type: "integer", minimum: 1, description: "Position in the part, from 1." };
const beat = {
  type: "number",
  minimum: 1,
  description: "Beats of the meter from the start of the measure, plus 1.",
};
const string = { type: "integer", minimum: 1, maximum: 12, description: "1 is the highest string." };
const fret = { type: "integer", minimum: 0, maximum: 24, description: "As in TAB: 0 is open." };
const finger = { type: "integer", minimum: 1, maximum: 4, description: "1 is the index finger." };

const held = { type: "boolean", description: "Rings on from the moment before and is not struck again." };

const measures = {
  type: "array",
  minItems: 1,
  maxItems: 2,
  items: measure,
  description: "One measure, or the first and the last of several.",
};

const object = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: "object",
  additionalProperties: false,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});

/** Each kind of wish by the field that names it. */
export const WISH_SCHEMAS = {
  grip: object({
    measure,
    beat,
    grip: {
      type: "array",
      minItems: 1,
      maxItems: 12,
      items: object({ string, fret, finger: { ...finger, minimum: 0 }, held }, ["finger", "held"]),
      description: "This grip and no other; fingers that are not given are free.",
    },
  }),
  play: object({
    measure,
    beat,
    play: { enum: ["single", "chord"], description: "The melody note alone, or with a chord." },
  }),
  avoid: object({
    measures,
    avoid: {
      ...object(
        {
          fingers: { type: "array", minItems: 1, items: finger },
          strings: { type: "array", minItems: 1, items: string },
          frets: {
            type: "array",
            minItems: 2,
            maxItems: 2,
            items: { ...fret, minimum: 1 },
            description: "Lowest and highest fret of a region; open strings are not in it.",
          },
        },
        ["fingers", "strings", "frets"],
      ),
      minProperties: 1,
    },
  }),
  texture: object({ measures, texture: { enum: OPTIONS.texture.enum } }),
  melody: object({
    measures,
    melody: {
      type: "string",
      minLength: 1,
      description: "Where the tune is in these measures, named as for the option melody.",
    },
  }),
} as const;

const fileOf = (wish: object) => object({ wishes: { type: "array", maxItems: 1000, items: wish } });

export const WISHES_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "Wishes for an arrangement",
  ...fileOf({ anyOf: Object.values(WISH_SCHEMAS) }),
};

/** The file but for what is in its wishes; those are checked one by one. */
export const WISHES_FILE_SCHEMA = fileOf({ type: "object" });
