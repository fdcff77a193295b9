import { SHAPE_FAMILIES } from "../harmony/shapes/families.js";
import { OPTIONS_SCHEMA } from "../options/options-schema.js";
import { LEFT_OUT_TEXTS } from "./left-out-texts.js";
import { WHY_SINGLE_TEXTS } from "./why-single-texts.js";

/** JSON Schema (draft 7) of the JSON report. Lengths in millimetres along the neck, times in seconds. */

const text = { type: "string" };
const count = { type: "integer", minimum: 0 };
const length = { type: "number", minimum: 0 };

const moment = {
  measure: { type: "integer", minimum: 1, description: "Position in the part, from 1." },
  measureLabel: { type: "string", description: "The measure's own number where it differs." },
  beat: {
    type: "number",
    minimum: 1,
    description: "Beats of the meter from the start of the measure, plus 1.",
  },
};

const object = <Properties extends Record<string, object>>(
  properties: Properties,
  optional: readonly string[] = [],
) => ({
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

const attack = { enum: ["struck", "held", "single", "under"] };
const degrees = { type: "array", items: text, description: "What sounds, low to high." };
const notes = (fewest: number) => ({
  type: "array",
  minItems: fewest,
  items: note,
  description: "Where it is stopped, low to high.",
});

const shape = {
  ...object(
    {
      family: { enum: SHAPE_FAMILIES },
      lowest: { type: "string", description: "Degree of the shape's lowest note." },
      melodyFor: {
        type: "string",
        description: "Degree of the chord tone in whose place the melody stands.",
      },
      isOverBass: { type: "boolean", description: "The shape lies over a slash bass that is no part of it." },
    },
    ["melodyFor"],
  ),
  description: "The shape that a struck grip is; absent where it is none that players know.",
};

const alternative = object(
  {
    attack,
    extraCost: {
      ...count,
      description: "Points that the whole arrangement costs more with it, the rest chosen anew around it.",
    },
    degrees,
    notes: notes(0),
    shape,
  },
  ["shape"],
);

const event = object(
  {
    ...moment,
    chord: { type: "string", description: "As moved; absent before the first chord and under N.C." },
    attack,
    whySingle: {
      enum: Object.keys(WHY_SINGLE_TEXTS),
      description: "Why the melody note is alone; absent where it is not.",
    },
    melody: {
      type: "string",
      description: "The melody note as it sounds, such as Eb5; absent where it rests.",
    },
    melodyDegree: text,
    degrees,
    leftByMelody: {
      type: "array",
      minItems: 1,
      items: text,
      description: "Those of the degrees that melody notes of before sound, whose fingers were left on them.",
    },
    notes: notes(1),
    barres: {
      type: "array",
      items: object({
        finger: note.properties.finger,
        fret: note.properties.fret,
        from: { ...note.properties.string, description: "The lowest-pitched string of the barre." },
        to: { ...note.properties.string, description: "The highest-pitched string of the barre." },
      }),
    },
    shape,
    leftOut: {
      type: "array",
      items: object({ degree: text, reason: { enum: Object.keys(LEFT_OUT_TEXTS) } }),
      description: "Tones of the chord that a struck grip does without, and why.",
    },
    voicesLeftOut: {
      type: "array",
      minItems: 1,
      items: object({
        voice: text,
        pitch: { type: "string", description: "As it would sound, such as G3." },
        toneSounds: {
          type: "boolean",
          description: "Whether something else sounds its tone, in whichever octave.",
        },
      }),
      description: "What voices of an ensemble sing here and is not played, the lowest first.",
    },
    plucked: {
      type: "array",
      items: object({ string: note.properties.string, finger: { enum: ["p", "i", "m", "a"] } }),
      description:
        "The right-hand finger for each string struck together, low to high; with the option rightHand as fingers.",
    },
    damped: {
      type: "array",
      minItems: 1,
      items: note.properties.string,
      description: "Silent strings that a pick brushes through; with the option rightHand as pick.",
    },
    moveMm: { ...length, description: "From here to the next moment." },
    secondsAvailable: { ...length, description: "Time there is for that move." },
    mmPerSecond: length,
    alternatives: {
      type: "array",
      items: alternative,
      description: "Other ways to play it, cheapest first.",
    },
  },
  [
    "measureLabel",
    "chord",
    "whySingle",
    "melody",
    "melodyDegree",
    "leftByMelody",
    "shape",
    "voicesLeftOut",
    "plucked",
    "damped",
    "moveMm",
    "secondsAvailable",
    "mmPerSecond",
  ],
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
      version: { type: "string", description: "Of the program." },
      input: {
        type: "string",
        description: "The file that was arranged, as it was named; absent where there is none.",
      },
      title: text,
      key: object({ before: text, after: text, semitones: { type: "integer" } }),
      melody: object(
        {
          part: text,
          partName: { type: "string", description: "Absent where the part has none." },
          notes: count,
          struck: count,
          held: count,
          single: count,
          singleUnderChord: {
            ...count,
            description: "Of those alone, the ones that have a chord over them.",
          },
        },
        ["partName"],
      ),
      chordChangesUnderHeldNotes: count,
      hardestMove: object({
        from: momentObject,
        to: momentObject,
        moveMm: length,
        secondsAvailable: length,
        mmPerSecond: length,
      }),
      moves: object({
        count: { ...count, description: "From each moment to the one played after it, repeats too." },
        beyondLimit: { ...count, description: "Moves faster than the hand is said to travel." },
        limitMmPerSecond: length,
      }),
      widestReach: object({ ...moment, reachMm: length }, ["measureLabel"]),
      barres: count,
      playedOtherwise: {
        type: "array",
        items: moment.measure,
        description: "Measures with the melody and chords of an earlier one that are played otherwise.",
      },
      options: {
        ...object(OPTIONS_SCHEMA.properties, ["tempo"]),
        description: "All that the arrangement went by, whether it was given or not.",
      },
      findings: { type: "array", items: FINDING_SCHEMA },
      events: { type: "array", items: event },
    },
    ["input", "title", "hardestMove", "widestReach"],
  ),
};
