import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { type StruckGrip, struckGrips } from "../../src/arranging/candidates/struck-grips.js";
import { COSTS } from "../../src/arranging/costs/cost-table.js";
import { type Instrument, midiAt, STANDARD_TUNING } from "../../src/guitar/instrument.js";
import { chordOf } from "../../src/harmony/chord-tones.js";
import { supportPlan } from "../../src/harmony/support-plan.js";
import { isSharedHere, SHARED } from "../support/shared.js";

// shared/standards: 64 drop-2 voicings and 24 closed triads, computed from the open strings; 21 of the
// former agree with the chart at guitar-dan.com/chordmelody.html, 59 of all with the chords-db collection.
interface Voicing {
  readonly degrees: readonly string[];
  readonly relativeFrets: readonly number[];
  readonly exampleRootC: readonly (readonly number[])[];
}
interface Standard {
  readonly qualities: Record<
    string,
    { readonly musicxmlKind: string; readonly voicings: Record<string, Voicing[]> }
  >;
}

const GUITAR: Instrument = {
  openStrings: STANDARD_TUNING,
  frets: 19,
  scaleLengthMm: 650,
  capo: 0,
  fretSpacing: "real",
  hasOpenStrings: false,
  bodyFret: 12,
};

const cases = isSharedHere
  ? [...shapes("drop2.json", "4321"), ...shapes("triads.json", "432"), ...shapes("triads.json", "321")]
  : [];

test.skipIf(!isSharedHere)("the tables of published shapes are there", () => {
  expect(cases.length).toBe(8 * 4 + 4 * 3 + 4 * 3);
});

test.each(cases)(
  "$kind with $top on top on strings $set is the published shape",
  ({ kind, set, voicing, sixth }) => {
    const strings = [...set].map(Number);
    const frets = voicing.exampleRootC.find((example) => Math.min(...example) > 0);
    const top = strings.at(-1) ?? 1;
    const melody = midiAt(GUITAR, top, frets?.at(-1) ?? 0);
    const chord = chordOf({ root: { letter: "C", alter: 0 }, kind, degrees: [], bass: undefined });
    const grips = struckGrips(
      { instrument: GUITAR, melodyStrings: [top] },
      melody,
      supportPlan(chord, melody % 12, "auto"),
      COSTS,
    );
    // Under the third of a minor seventh fourths, with the eleventh in them, come before drop 2.
    const onTheseStrings = grips.filter(
      (grip) => grip.strings.map((note) => note.string).join("") === set && !grip.degrees.includes("11"),
    );
    const expected = (sixth ?? voicing).relativeFrets;
    expect(relativeFrets(onTheseStrings[0])).toEqual(expected);
  },
);

function relativeFrets(grip: StruckGrip | undefined): readonly number[] {
  const frets = grip?.strings.map((note) => note.fret) ?? [];
  return frets.map((fret) => fret - Math.min(...frets));
}

/** Where the root is on top and the seventh is major, the sixth stands for it: then the sixth chord's shape is due. */
function shapes(file: string, set: string) {
  const standard = JSON.parse(readFileSync(`${SHARED}standards/${file}`, "utf8")) as Standard;
  return Object.entries(standard.qualities).flatMap(([quality, { musicxmlKind, voicings }]) =>
    (voicings[set] ?? []).map((voicing) => {
      const top = voicing.degrees.at(-1) ?? "";
      const sixthName = { maj7: "6", mMaj7: "m6" }[quality];
      const sixth =
        sixthName !== undefined && top === "1"
          ? standard.qualities[sixthName]?.voicings[set]?.find((other) => other.degrees.at(-1) === "1")
          : undefined;
      return { kind: musicxmlKind, set, top, voicing, sixth };
    }),
  );
}
