import { placementsAt } from "#built/arrangement/hand-moves.js";
import { midiAt } from "#built/guitar/instrument.js";
import { chordOf } from "#built/harmony/chord-tones.js";
import { SHAPE_FAMILIES } from "#built/harmony/shapes/families.js";
import { shapeOf, shapesUnder } from "#built/harmony/shapes/shape-table.js";
import type { Judged, Section } from "./section.js";
import { share, type Tally } from "./tally.js";

/** How many struck grips are shapes that players know, and of which family. */
export const SHAPES: Section = {
  judge,
  lines: (tally) => [
    `struck grips of three notes or more that are shapes players know: ${share(tally, "shapes: known", "shapes: struck")}`,
    ...SHAPE_FAMILIES.map(
      (family) => `... ${family}: ${share(tally, `shapes: ${family}`, "shapes: struck")}`,
    ),
  ],
};

function judge({ tune, arrangement, placeOf }: Judged, { count }: Tally): void {
  for (const event of arrangement.events) {
    const symbol = event.chord === undefined ? undefined : tune.chords[event.chord]?.symbol;
    const notes = placementsAt(arrangement, event);
    if (symbol === undefined || event.attack === "single" || event.attack === "held" || notes.length < 3)
      continue;
    const midis = notes.map(({ string, fret }) => midiAt(arrangement.instrument, string, fret));
    const shape = shapeOf(shapesUnder(chordOf(symbol), (midis.at(-1) ?? 0) % 12), notes, midis);
    count("shapes: struck");
    if (shape === undefined) count("shapes: none", placeOf(event.onset));
    else {
      count("shapes: known");
      count(`shapes: ${shape.family}`);
    }
  }
}
