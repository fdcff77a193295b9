import { describe, expect, test } from "vitest";
import { linesOfGrip } from "../../src/arranging/candidates/lines-of-grip.js";
import type { SungPitch } from "../../src/arranging/candidates/sung-placements.js";
import { midiPitch } from "../../src/song/pitch.js";
import { GUITAR } from "../support/guitar.js";

const sung = (voice: number, midi: number, isBassLine = false): SungPitch => ({
  midi,
  pitch: midiPitch(midi),
  voice,
  begins: true,
  isHeldOver: false,
  isBassLine,
});
const bass = (midi: number) => sung(3, midi, true);

/** Voice and octaves of each note of a grip, given as "string/fret": "3+1"; "-" for one that is nobody's. */
const said = (grip: string, pitches: readonly SungPitch[]) => {
  const supports = grip.split(" ").map((place) => {
    const [string = 0, fret = 0] = place.split("/").map(Number);
    return { string, fret };
  });
  const lines = linesOfGrip(GUITAR, grip === "" ? [] : supports, pitches);
  return lines?.map((line) =>
    line === undefined ? "-" : `${line.voice}${line.octaves === 0 ? "" : `+${line.octaves}`}`,
  );
};

describe("The notes of a grip that came back", () => {
  test("are of the voices that sing their pitches", () => {
    expect(said("5/3 3/4 2/5", [bass(48), sung(2, 59), sung(1, 64)])).toEqual(["3", "2", "1"]);
  });

  test("are of a voice that sings another octave where none sings their pitch", () => {
    expect(said("5/3 2/5", [bass(48), sung(1, 76)])).toEqual(["3", "1+-1"]);
  });

  test("take each voice once", () => {
    expect(said("5/3 3/5 2/5", [bass(48), sung(2, 64)])).toEqual(["3", "-", "2"]);
  });

  test("that have a voice's very pitch take it before those in another octave", () => {
    expect(said("4/2 2/5", [sung(2, 64), sung(1, 76)])).toEqual(["1+-2", "2"]);
  });

  test("have a bass although one of them is nobody's", () => {
    expect(said("5/3 3/6 2/5", [bass(48), sung(2, 64)])).toEqual(["3", "-", "2"]);
  });

  test("have a bass that lies an octave higher, where another voice sings its pitch and has no room", () => {
    expect(said("5/3 2/5", [bass(36), sung(2, 48), sung(1, 64)])).toEqual(["3+1", "1"]);
  });

  test("have no bass on strings that are not the thumb's while another voice may have come there", () => {
    expect(said("2/1", [bass(48), sung(1, 60)])).toEqual(["1"]);
    expect(said("6/9 3/0", [bass(55), sung(2, 61), sung(1, 67)])).toEqual(["2+-1", "1+-1"]);
  });

  test("have a bass that a player put on such a string, where it is no other voice's", () => {
    expect(said("3/0 2/5", [bass(55), sung(1, 64)])).toEqual(["3", "1"]);
  });

  test("are nobody's all together where no voice sings any of them", () => {
    expect(said("5/4", [bass(48)])).toBeUndefined();
    expect(said("", [bass(48)])).toBeUndefined();
  });
});
