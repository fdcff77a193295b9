import { parseMidi } from "midi-file";
import { expect, test } from "vitest";
import { midiFile } from "../../server/page/core/midi-file.js";
import type { Performance } from "../../src/index.js";

const QUARTER = 960;

/** A note on each beat of two bars of 4/4, the first at 60, the second at 120 quarters a minute. */
const performance: Performance = {
  notes: [0, 1, 2, 3, 4, 4.5, 5, 5.5].map((seconds) => ({
    seconds,
    length: 0.25,
    midi: 60,
    string: 2,
    isMelody: true,
  })),
  moments: [],
  measures: [],
  tempos: [
    { seconds: 0, quartersPerMinute: 60 },
    { seconds: 4, quartersPerMinute: 120 },
  ],
  seconds: 6,
  openStrings: [64, 59, 55, 50, 45, 40],
};

test("a MIDI file has the tempo marks of the score, and its notes on the beats", () => {
  const { header, tracks } = parseMidi(midiFile(performance, "Two Speeds"));
  expect(header.ticksPerBeat).toBe(QUARTER);
  const timed = (track: (typeof tracks)[number]) => {
    let tick = 0;
    return track.map((event) => {
      tick += event.deltaTime;
      return { ...event, tick };
    });
  };
  const tempos = timed(tracks[0] ?? []).flatMap((event) =>
    event.type === "setTempo" ? [[event.tick, event.microsecondsPerBeat]] : [],
  );
  expect(tempos).toEqual([
    [0, 1_000_000],
    [4 * QUARTER, 500_000],
  ]);
  const begins = timed(tracks[1] ?? []).flatMap((event) => (event.type === "noteOn" ? [event.tick] : []));
  expect(begins).toEqual([0, 1, 2, 3, 4, 5, 6, 7].map((beat) => beat * QUARTER));
});
