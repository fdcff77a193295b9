import type { ArrangedEvent, Arrangement } from "../arrangement/arrangement.js";
import type { Finding } from "../diagnostics.js";
import type { Level } from "../options/levels.js";
import type { ArrangeOptions } from "../options/options.js";

/** The options that say what a level asks; explicit ones count as they were given. */
export type LevelOptions = Pick<ArrangeOptions, "level" | "frets" | "reach" | "barres" | "notes" | "texture">;

/** What an arrangement at a level under the highest does without; undefined at that one. */
export function levelNote(arrangement: Arrangement, options: LevelOptions): Finding | undefined {
  const { level } = options;
  if (level === "advanced") return undefined;
  const { events } = arrangement;
  const under = events.filter(({ melodyDegree }) => melodyDegree !== undefined);
  const alone = under.filter(({ attack }) => attack === "single").length;
  const tones = leftOutOf(events);
  return {
    rule: "level-leaves-out",
    severity: "note",
    place: {},
    found: `${alone} of ${under.length} melody notes alone under a chord symbol, ${tones} chord tones left out`,
    expected: limitsText(options),
    message:
      `At the ${level} level (${limitsText(options)}) ${alone} of ${under.length} melody notes under a chord symbol are alone, ` +
      `and its struck grips do without ${tones} tones of their chords.`,
    hint: HINTS[level],
  };
}

/** Tones that grips lack although the melody does not stand for them. */
const leftOutOf = (events: readonly ArrangedEvent[]): number =>
  events
    .flatMap(({ leftOut }) => leftOut)
    .filter(({ reason }) => reason === "least-needed" || reason === "grip-stays" || reason === "out-of-reach")
    .length;

const HINTS: Readonly<Record<Exclude<Level, "advanced">, string>> = {
  elementary:
    "The intermediate level leaves out less; frets, reach, barres, notes and texture may each be given.",
  intermediate:
    "The advanced level leaves out less; frets, reach, barres, notes and texture may each be given.",
};

function limitsText({ frets, reach, barres, notes, texture }: LevelOptions): string {
  return [
    `up to fret ${frets}`,
    BARRE_TEXTS[barres],
    ...(reach === 1 ? [] : [`${Math.round(100 * reach)} % of the widest reach`]),
    ...(notes === "auto" ? [] : [`${notes} notes a grip`]),
    `the ${texture} texture`,
  ].join(", ");
}

const BARRE_TEXTS: Readonly<Record<ArrangeOptions["barres"], string>> = {
  all: "barres of any width",
  partial: "barres of the index finger across three strings at most",
  none: "no barres",
};
