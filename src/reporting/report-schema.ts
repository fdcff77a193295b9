/** JSON Schema (draft 7) of the JSON report. Lengths in millimetres along the neck, times in seconds. */

const text = { type: "string" };
const count = { type: "integer", minimum: 0 };
const length = { type: "number", minimum: 0 };

const moment = {
  measure: { type: "integer", minimum: 1, description: "Position in the part, from 1." },
  measureLabel: { type: "string", description: "The measure's own number where it differs." },
  beat: { type: "number", minimum: 1, description: "Quarter notes from the start of the measure, plus 1." },
};

const object = (properties: Record<string, object>, optional: readonly string[] = []) => ({
  type: "object",
  additionalProperties: false,
  required: Object.keys(properties).filter((name) => !optional.includes(name)),
  properties,
});

const momentObject = object(moment, ["measureLabel"]);

const note = object({
  string: { type: "integer", minimum: 1, description: "1 is the highest string." },
  fret: { type: "integer", minimum: 0, description: "From the nut or the capo; 0 is open." },
  finger: {
    type: "integer",
    minimum: 0,
    maximum: 4,
    description: "0 is an open string, 1 the index finger.",
  },
});

const event = object(
  {
    ...moment,
    chord: { type: "string", description: "As moved; absent before the first chord and under N.C." },
    attack: { enum: ["struck", "held", "single", "under"] },
    melodyDegree: text,
    degrees: { type: "array", items: text, description: "What sounds, low to high." },
    notes: { type: "array", minItems: 1, items: note, description: "Where it is stopped, low to high." },
    moveMm: { ...length, description: "From here to the next moment." },
  },
  ["measureLabel", "chord", "melodyDegree", "moveMm"],
);

const place = object(
  {
    file: text,
    part: text,
    measure: moment.measure,
    measureLabel: text,
    beat: moment.beat,
    line: { type: "integer", minimum: 1 },
    column: { type: "integer", minimum: 1 },
  },
  ["file", "part", "measure", "measureLabel", "beat", "line", "column"],
);

/** One finding, as it stands in a report and in an answer that refuses a score. */
export const FINDING_SCHEMA = object(
  {
    rule: { type: "string", pattern: "^[a-z0-9]+(-[a-z0-9]+)*$" },
    severity: { enum: ["error", "warning", "note"] },
    place,
    found: text,
    expected: text,
    message: text,
    hint: text,
  },
  ["hint"],
);

export const REPORT_SCHEMA = {
  $schema: "http://json-schema.org/draft-07/schema#",
  title: "Report on an arrangement",
  ...object(
    {
      title: text,
      key: object({ before: text, after: text, semitones: { type: "integer" } }),
      melody: object({ part: text, notes: count, struck: count, held: count, single: count }),
      chordChangesUnderHeldNotes: count,
      hardestMove: object({
        from: momentObject,
        to: momentObject,
        moveMm: length,
        secondsAvailable: length,
        mmPerSecond: length,
      }),
      widestReach: object({ ...moment, reachMm: length }, ["measureLabel"]),
      barres: count,
      findings: { type: "array", items: FINDING_SCHEMA },
      events: { type: "array", items: event },
    },
    ["title", "hardestMove", "widestReach"],
  ),
};
