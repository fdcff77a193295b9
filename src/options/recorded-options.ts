import type { GuitarScore } from "../guitar/guitar-score.js";
import { midiPitch, nameOf } from "../song/pitch.js";
import { defaultsAt, isOfLevel } from "./levels.js";
import { completeOptions, OptionsError } from "./option-checking.js";
import { type ArrangeOptions, MUSICAL_OPTIONS, OPTIONS, type OptionName } from "./options.js";

/** The options a guitar part was made with, and those that its next arrangement goes by. */
export interface OptionsInForce {
  readonly recorded: ArrangeOptions;
  readonly inForce: ArrangeOptions;
  /** Whether both would arrange alike, so that what the player did not touch may stay. */
  readonly areAlike: boolean;
}

/**
 * Brings together what a score records of its options and what is given now. An option left at its
 * default is that of the score; any other counts. Without a record the score's own tuning, capo and
 * layout stand in, and the rest are the options given.
 */
export function optionsInForce(
  given: ArrangeOptions,
  returned:
    | {
        readonly guitar: GuitarScore;
        readonly mark: { readonly options: Readonly<Record<string, unknown>> } | undefined;
      }
    | undefined,
): OptionsInForce {
  if (returned === undefined) return { recorded: given, inForce: given, areAlike: true };
  const record = returned.mark?.options;
  const stated = record === undefined ? statedIn(returned.guitar) : record;
  const recorded = record === undefined ? withDefaultsFrom(given, stated) : completed(stated);
  const inForce = withDefaultsFrom(given, recorded);
  return {
    recorded,
    inForce,
    areAlike: MUSICAL_OPTIONS.every((name) => recorded[name] === inForce[name]),
  };
}

/** What the score itself shows of the options that it was made with. */
function statedIn({ instrument, layout }: GuitarScore): Partial<Record<OptionName, unknown>> {
  const { openStrings, capo } = instrument;
  return {
    ...(openStrings === undefined ? {} : { tuning: openStrings.toReversed().map(nameOfString).join(" ") }),
    ...(capo === undefined ? {} : { capo }),
    ...(layout === "notation" ? {} : { staves: layout }),
  };
}

function nameOfString(midi: number): string {
  const pitch = midiPitch(midi);
  return `${nameOf(pitch)}${pitch.octave}`;
}

/** Options left at their default take another's value; where they then contradict each other, none does. */
function withDefaultsFrom(
  given: ArrangeOptions,
  other: Partial<Record<OptionName, unknown>>,
): ArrangeOptions {
  const names = Object.keys(OPTIONS) as OptionName[];
  const defaults = defaultsAt(given.level);
  // What another level leaves at its default is asked for all the same.
  const isNewLevel = given.level !== OPTIONS.level.default && given.level !== other.level;
  const taken = names.map((name) => [
    name,
    name !== "edits" &&
    !(isNewLevel && isOfLevel(name)) &&
    given[name] === defaults[name] &&
    other[name] !== undefined
      ? other[name]
      : given[name],
  ]);
  return checked(Object.fromEntries(taken)) ?? given;
}

/** A record made whole; what in it is no option any more is left out. */
function completed(record: Readonly<Record<string, unknown>>): ArrangeOptions {
  const whole = checked(record);
  if (whole !== undefined) return whole;
  const valid = Object.entries(record).filter(([name, value]) => checked({ [name]: value }) !== undefined);
  return checked(Object.fromEntries(valid)) ?? completeOptions({});
}

function checked(options: object): ArrangeOptions | undefined {
  try {
    return completeOptions(options);
  } catch (error) {
    if (error instanceof OptionsError) return undefined;
    throw error;
  }
}
