import type { Finding } from "../diagnostics.js";
import { lastFretAbove, stringCount } from "../guitar/instrument.js";
import { stringsOfTuning } from "../guitar/tunings.js";
import type { SchemaFault } from "../json/validator.js";
import { fitsOptions } from "../json/validators.js";
import { instrumentFrom, melodyStringsFrom } from "./instrument-from-options.js";
import { defaultsAt } from "./levels.js";
import { type ArrangeOptions, OPTIONS, type OptionName } from "./options.js";

/** MIDI numbers of C0 and C7: below the lowest bass string and above the highest treble string made. */
const LOWEST_OPEN_STRING = 12;
const HIGHEST_OPEN_STRING = 96;

/** What was asked cannot be done as it stands; one finding for each thing wrong, each by its option's name. */
export class OptionsError extends Error {
  readonly findings: readonly Finding[];

  constructor(findings: readonly Finding[]) {
    super(findings.map((finding) => finding.message).join(" "));
    this.name = "OptionsError";
    this.findings = findings;
  }
}

/**
 * Options made whole: what is given is checked against the table, what is not given gets its default, and a
 * tuning that goes by a name its strings.
 * A value of undefined counts as not given.
 *
 * @throws OptionsError where an option is unknown, out of its range, or contradicts another
 */
export function completeOptions(given: unknown): ArrangeOptions {
  const present = withoutAbsent(given);
  if (!fitsOptions(present)) throw new OptionsError((fitsOptions.errors ?? []).map(findingOf));
  const asked = present as Partial<ArrangeOptions>;
  const defaults = defaultsAt(asked.level ?? OPTIONS.level.default);
  // A high capo leaves fewer frets on the neck.
  const frets = Math.min(Number(defaults.frets), lastFretAbove(asked.capo ?? 0));
  const whole = { ...defaults, frets, ...asked } as ArrangeOptions;
  const options = { ...whole, tuning: stringsOfTuning(whole.tuning) };
  const contradictions = CONTRADICTIONS.flatMap((rule) => rule(options) ?? []);
  if (contradictions.length > 0) throw new OptionsError(contradictions);
  return options;
}

const withoutAbsent = (given: unknown): unknown =>
  typeof given === "object" && given !== null && !Array.isArray(given)
    ? Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined))
    : (given ?? {});

// ---- contradictions: each rule answers with what is wrong, or with nothing ----

const CONTRADICTIONS: readonly ((options: ArrangeOptions) => Finding | undefined)[] = [
  function openStringsOfAGuitar({ tuning, ...rest }) {
    const { openStrings } = instrumentFrom({ tuning, ...rest });
    if (openStrings.every((midi) => midi >= LOWEST_OPEN_STRING && midi <= HIGHEST_OPEN_STRING))
      return undefined;
    return optionFinding(
      "option-out-of-range",
      tuning,
      "strings from C0 to C7",
      `The option tuning names a string outside C0 to C7: "${tuning}".`,
    );
  },
  function melodyStringsOnTheInstrument(options) {
    const count = stringCount(instrumentFrom(options));
    const missing = melodyStringsFrom(options).filter((string) => string > count);
    if (missing.length === 0) return undefined;
    return optionFinding(
      "options-contradict",
      options.strings,
      `strings from 1 to ${count}`,
      `The option strings names string ${missing.join(", ")}, and the option tuning has ${count} strings.`,
    );
  },
  function fretsLeftOnTheNeck({ frets, capo }) {
    if (frets <= lastFretAbove(capo)) return undefined;
    return optionFinding(
      "options-contradict",
      String(frets),
      `frets up to ${lastFretAbove(capo)}`,
      `The option frets asks for fret ${frets} above the capo, and the option capo at fret ${capo} leaves ${lastFretAbove(capo)}.`,
    );
  },
];

const optionFinding = (rule: string, found: string, expected: string, message: string): Finding => ({
  rule,
  severity: "error",
  place: {},
  found,
  expected,
  message,
});

// ---- what the schema found wrong, in words ----

function findingOf(error: SchemaFault): Finding {
  if (error.keyword === "additionalProperties") {
    const name = String(error.params.additionalProperty);
    const known = Object.keys(OPTIONS).join(", ");
    return optionFinding("option-unknown", name, known, `Unknown option "${name}"; there are ${known}.`);
  }
  const name = error.instancePath.slice(1) as OptionName | "";
  if (name === "")
    return optionFinding(
      "options-unreadable",
      typeof error.data,
      "an object",
      "The options are not an object.",
    );
  const found = JSON.stringify(error.data);
  const expected = rangeOf(name);
  return optionFinding(
    "option-out-of-range",
    found,
    expected,
    `The option ${name} cannot be ${found}; it takes ${expected}.`,
  );
}

/** An example for the options whose rule is a pattern; a regular expression helps nobody. */
const EXAMPLES: Partial<Record<OptionName, string>> = {
  key: 'keep, best or a tonic such as "Eb" or "F#m"',
  tuning: "four to twelve open strings, low to high, such as D2 A2 D3 G3 B3 E4, or a name such as DADGAD",
  strings: 'strings by number such as "1-3" or "1,2"',
};

/** What an option takes, in words: "a whole number from 5 to 24". */
function rangeOf(name: OptionName): string {
  const row = OPTIONS[name];
  const example = EXAMPLES[name];
  if (example !== undefined) return example;
  if (row.type === "boolean") return "true or false";
  if ("enum" in row) return row.enum.join(", ").replace(/, ([^,]*)$/, " or $1");
  if ("minimum" in row)
    return `a${row.type === "integer" ? " whole" : ""} number from ${row.minimum} to ${row.maximum}`;
  return "text";
}
