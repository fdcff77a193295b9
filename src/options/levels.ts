import { type ArrangeOptions, OPTIONS, type OptionName } from "./options.js";

export type Level = ArrangeOptions["level"];

/** What a level decides together; each may be given beside it. */
type LevelOption = "texture" | "frets" | "reach" | "barres" | "strings" | "notes" | "shift";

/**
 * What each level asks in place of the defaults, which are the advanced one's. First position without barres, then
 * barres of a few strings and the lower half of the neck, then all: the order of graded methods. Common practice.
 * The reaches, on a neck of 650 mm: at 0.65 no pair of fingers goes over more than three frets below the fifth
 * fret; at 0.8 the hand lays one finger a fret in first position, and little more. The speeds are our own.
 */
const LEVELS: Readonly<Record<Level, Partial<Pick<ArrangeOptions, LevelOption>>>> = {
  elementary: {
    texture: "lean",
    frets: 5,
    reach: 0.65,
    barres: "none",
    // A melody in first position goes down to the fourth string before it leaves the key.
    strings: "1-4",
    notes: "3",
    shift: 120,
  },
  intermediate: { frets: 7, reach: 0.8, barres: "partial", shift: 180 },
  advanced: {},
};

/** Whether a level decides an option. */
export const isOfLevel = (name: string): boolean =>
  Object.values(LEVELS).some((asked) => Object.hasOwn(asked, name));

/** What an option is where it is not given, at a level. */
export const defaultsAt = (level: Level): Readonly<Record<OptionName, unknown>> => ({
  ...(Object.fromEntries(Object.entries(OPTIONS).map(([name, row]) => [name, row.default])) as Record<
    OptionName,
    unknown
  >),
  ...LEVELS[level],
});

/** The options that are other than they would be if they were not given. */
export function notDefault(options: ArrangeOptions): Readonly<Partial<Record<OptionName, unknown>>> {
  const defaults = defaultsAt(options.level);
  return Object.fromEntries(
    (Object.keys(OPTIONS) as OptionName[])
      .filter((name) => options[name] !== undefined && options[name] !== defaults[name])
      .map((name) => [name, options[name]]),
  );
}
