import { movesOf } from "#built/arrangement/hand-moves.js";
import type { Judged, Section } from "./section.js";
import type { Tally } from "./tally.js";

/** A move that takes the eyes to the neck: about three frets in the middle of it. Common practice. */
const FAR_MM = 100;

/** How much the hand has to do: travel, far moves and new grips, and moves beyond the limit. */
export const MOVES: Section = {
  judge,
  lines: (tally) => EASE.map(({ what, of, unit }) => `${what}: ${of(tally).toFixed(1)} ${unit}`.trimEnd()),
};

/** What a texture asks of the hand, in a minute of playing; less is easier. */
export const EASE: readonly {
  readonly what: string;
  readonly unit: string;
  readonly of: (tally: Tally) => number;
  /** The most that the fluent texture may ask of what the full one does. */
  readonly goal: number | undefined;
}[] = [
  {
    what: "travel of the hand",
    unit: "mm a minute",
    of: (tally) => perMinute(tally, "moves: mm"),
    goal: 0.7,
  },
  {
    what: `moves over ${FAR_MM} mm`,
    unit: "a minute",
    of: (tally) => perMinute(tally, `moves: over ${FAR_MM} mm`),
    goal: 0.5,
  },
  {
    what: "grips changed",
    unit: "a minute",
    of: (tally) => perMinute(tally, "moves: grips changed"),
    goal: undefined,
  },
];

const perMinute = (tally: Tally, what: string): number => (60 * tally.of(what)) / tally.of("moves: seconds");

function judge({ tune, arrangement, shift, placeOf }: Judged, { count }: Tally): void {
  const { events, melody, supports } = arrangement;
  for (const { from, moveMm, secondsAvailable } of movesOf(tune, arrangement, undefined)) {
    const place = placeOf(events[from]?.onset ?? 0);
    count("moves: made");
    count("moves: mm", undefined, moveMm);
    count("moves: seconds", undefined, secondsAvailable);
    if (moveMm > FAR_MM) count(`moves: over ${FAR_MM} mm`, place);
    if (moveMm > shift * secondsAvailable) count("moves: beyond the limit", place);
  }
  let gripBefore = "";
  for (const event of events) {
    if (event.attack === "single" || event.attack === "held") continue;
    const notes = [...event.supports.map((index) => supports[index]), melody[event.melodyNote ?? -1]];
    const grip = notes.map((note) => `${note?.string}:${note?.fret}`).join(" ");
    if (grip !== gripBefore) count("moves: grips changed");
    gripBefore = grip;
  }
}
