/** JSON Schema (draft 7) of the summary of a batch. */

const count = { type: "integer", minimum: 0 };
const text = { type: "string" };
const texts = { type: "array", items: text };

const object = (properties: Readonly<Record<string, object>>, optional: readonly string[] = []) => ({
  type: "object",
  additionalProperties: false,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});

const arranged = object(
  {
    title: text,
    key: { type: "string", description: "Of the lead sheet, in words." },
    semitones: { type: "integer", description: "How far the tune was moved." },
    fits: { enum: ["as written", "moved", "on more of the neck"] },
    notes: count,
    withChord: { type: "number", minimum: 0, maximum: 1, description: "Share of the notes with a chord." },
    hardestMove: object({
      mmPerSecond: { type: "number", minimum: 0 },
      measure: { type: "integer", minimum: 1, description: "Position in the part, from 1." },
      beat: { type: "number" },
    }),
    moves: count,
    movesTooFast: count,
  },
  ["title", "hardestMove"],
);

export const BATCH_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "Summary of a batch",
  ...object({
    format: { const: 1 },
    program: { type: "string", description: "Version of the program." },
    options: { type: "object", description: "Every option of the arrangement, as it was in force." },
    counts: object({
      scores: count,
      arranged: count,
      refused: count,
      stopped: count,
      trouble: count,
      leftAlone: count,
    }),
    notBegun: { ...count, description: "Scores left because the batch was interrupted." },
    seconds: { type: "number", minimum: 0 },
    needAnEye: { type: "array", maxItems: 20, items: object({ input: text, reasons: texts }) },
    rows: {
      type: "array",
      items: object(
        {
          input: { type: "string", description: "As it was asked for." },
          sheet: { type: "string", description: "The lead sheet as seen from the output folder." },
          score: { type: "string", description: "The guitar score as seen from the output folder." },
          outcome: { enum: ["arranged", "refused", "stopped", "trouble", "leftAlone"] },
          arranged,
          warnings: count,
          says: { ...texts, description: "The first findings that are worth a look." },
        },
        ["arranged"],
      ),
    },
  }),
};
