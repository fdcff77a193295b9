import { FINDING_SCHEMA } from "./report-schema.js";

/** JSON Schema (draft 7) of what a check says. Lengths in millimetres along the neck, times in seconds. */

const count = { type: "integer", minimum: 0 };
const length = { type: "number", minimum: 0 };

const object = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: "object",
  additionalProperties: false,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});

const moment = {
  measure: { type: "integer", minimum: 1, description: "Position in the part, from 1." },
  measureLabel: { type: "string", description: "The measure's own number where it differs." },
  beat: { type: "number", description: "Beats of the meter from the start of the measure, plus 1." },
};

const momentObject = object(moment, ["measureLabel"]);

export const CHECK_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "Check of a guitar score",
  ...object(
    {
      title: { type: "string" },
      summary: object(
        {
          layout: { enum: ["parts", "joined", "tab", "notation"] },
          openStrings: {
            type: "array",
            minItems: 1,
            items: { type: "integer" },
            description: "Sounding MIDI numbers without capo, string 1 first.",
          },
          capo: count,
          attacks: { ...count, description: "Notes struck, ties joined, grace notes left out." },
          grips: { ...count, description: "Moments at which two strings or more are struck." },
          widestReach: object({ ...moment, reachMm: length }, ["measureLabel"]),
          fastestMove: object({
            from: momentObject,
            to: momentObject,
            moveMm: length,
            secondsAvailable: length,
            mmPerSecond: length,
          }),
          guideTones: object({
            grips: { ...count, description: "Grips under chords of more than a triad." },
            complete: { ...count, description: "Of these, grips that hold every guide tone." },
          }),
          errors: count,
          warnings: count,
          notes: count,
        },
        ["widestReach", "fastestMove"],
      ),
      findings: { type: "array", items: FINDING_SCHEMA },
    },
    ["title"],
  ),
};
