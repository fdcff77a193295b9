import { describe, expect, test } from "vitest";
import { linesOfGrip } from "../../src/arranging/candidates/lines-of-grip.js";
import type { SungPitch } from "../../src/arranging/candidates/sung-placements.js";
import { midiPitch } from "../../src/song/pitch.js";

const sung = (voice: number, midi: number, isBassLine = false): SungPitch => ({
  midi,
  pitch: midiPitch(midi),
  voice,
  begins: true,
  isHeldOver: false,
  isBassLine,
});
const bass = (midi: number) => sung(3, midi, true);

/** Voice and octaves of each note: "3+1"; "-" for one that is nobody's. */
const said = (supports: readonly number[], pitches: readonly SungPitch[]) =>
  linesOfGrip(supports, pitches)?.map((line) =>
    line === undefined ? "-" : `${line.voice}${line.octaves === 0 ? "" : `+${line.octaves}`}`,
  );

describe("The notes of a grip that came back", () => {
  test("are of the voices that sing their pitches", () => {
    expect(said([48, 59, 64], [bass(48), sung(2, 59), sung(1, 64)])).toEqual(["3", "2", "1"]);
  });

  test("are of a voice that sings another octave where none sings their pitch", () => {
    expect(said([48, 64], [bass(48), sung(1, 76)])).toEqual(["3", "1+-1"]);
  });

  test("take each voice once", () => {
    expect(said([48, 60, 64], [bass(48), sung(2, 64)])).toEqual(["3", "-", "2"]);
  });

  test("that have a voice's very pitch take it before those in another octave", () => {
    expect(said([52, 64], [sung(2, 64), sung(1, 76)])).toEqual(["1+-2", "2"]);
  });

  test("have a bass although one of them is nobody's", () => {
    expect(said([48, 61, 64], [bass(48), sung(2, 64)])).toEqual(["3", "-", "2"]);
  });

  test("have a bass that lies an octave higher, where another voice sings its pitch and has no room", () => {
    expect(said([48, 64], [bass(36), sung(2, 48), sung(1, 64)])).toEqual(["3+1", "1"]);
  });

  test("are nobody's all together where no voice sings any of them", () => {
    expect(said([49], [bass(48)])).toBeUndefined();
    expect(said([], [bass(48)])).toBeUndefined();
  });
});
