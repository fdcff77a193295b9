import type { SoundingString } from "../../src/guitar/fingering.js";
import type { Finger } from "../../src/guitar/grip.js";
import { type Instrument, STANDARD_TUNING } from "../../src/guitar/instrument.js";

/** A classical guitar in standard tuning. */
export const GUITAR: Instrument = {
  openStrings: STANDARD_TUNING,
  frets: 15,
  scaleLengthMm: 650,
  capo: 0,
  fretSpacing: "real",
  hasOpenStrings: true,
  bodyFret: 12,
};

/** A grip as a chord diagram is read out, lowest string first: "x 3:2 5:4 3:3 0 x" is fret:finger, open, silent. */
export function gripFrom(diagram: string): { strings: SoundingString[]; fingers: Finger[] } {
  const columns = diagram.split(" ");
  const strings: SoundingString[] = [];
  const fingers: Finger[] = [];
  columns.forEach((column, index) => {
    if (column === "x") return;
    const [fret = 0, finger = 0] = column.split(":").map(Number);
    strings.push({ string: columns.length - index, fret });
    fingers.push(finger as Finger);
  });
  return { strings, fingers };
}
