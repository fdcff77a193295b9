import { type Finding, type Place, ScoreError } from "../../diagnostics.js";
import type { Quarters } from "./exact-time.js";

const quarters = (length: Quarters): string =>
  `${length.toFraction(true)} quarter${length.equals(1) ? "" : "s"}`;

export const durationUnreadable = (found: string, place: Place) =>
  new ScoreError({
    rule: "duration-unreadable",
    place,
    found: `the duration "${found}"`,
    expected: "a number of divisions",
    message: `The duration "${found}" is no number of divisions.`,
    hint: "Write it as a whole number, such as 3.",
  });

export const divisionsMissing = (place: Place) =>
  new ScoreError({
    rule: "divisions-missing",
    place,
    found: "durations without <divisions>",
    expected: "<divisions> before the first note",
    message:
      "Nothing says how many divisions a quarter note has, and neither a note's type nor the bars give it away.",
    hint: "Write <divisions> into the first <attributes> of the part.",
  });

export const divisionsInferred = (divisions: Quarters, from: "type" | "bars", place: Place): Finding => ({
  rule: "divisions-missing",
  severity: "warning",
  place,
  found: "durations without <divisions>",
  expected: `<divisions>${divisions.toFraction()}</divisions>`,
  message: `Nothing says how many divisions a quarter note has; ${divisions.toFraction()} was taken, from ${from === "type" ? "the first note's type" : "what most bars hold"}.`,
});

export const durationMissing = (length: Quarters, place: Place): Finding => ({
  rule: "duration-missing",
  severity: "warning",
  place,
  found: "a note without a duration",
  expected: "a <duration>",
  message: `A note has no duration; ${quarters(length)} was taken.`,
});

export const typesTrusted = (byDuration: Quarters, byType: Quarters, place: Place): Finding => ({
  rule: "duration-contradicts-type",
  severity: "warning",
  place,
  found: `durations of ${quarters(byDuration)} in all`,
  expected: `${quarters(byType)}, as the note types say`,
  message: `The durations add up to ${quarters(byDuration)}, the note types to the ${quarters(byType)} of the bar; the types were taken.`,
});

export const barRestShortened = (nominal: Quarters, place: Place): Finding => ({
  rule: "bar-rest-length",
  severity: "warning",
  place,
  found: "a whole note's rest, alone in a shorter bar",
  expected: `a rest of ${quarters(nominal)}, as the time signature says`,
  message: `A whole rest stands alone in a bar of ${quarters(nominal)}; it was taken for a rest of the bar.`,
});

export const barLengthOdd = (found: Quarters, expected: Quarters, place: Place): Finding => {
  const difference = found.sub(expected);
  const amount = quarters(difference.abs());
  const way = difference.n > 0n && difference.s > 0n ? "too long" : "too short";
  return {
    rule: "bar-length",
    severity: "warning",
    place,
    found: `a bar of ${quarters(found)}`,
    expected: `${quarters(expected)}, as the time signature says`,
    message: `The bar is ${amount} ${way} for its time signature; its notes were kept as they are.`,
  };
};

export const barTooLong = (found: Quarters, most: Quarters, place: Place) =>
  new ScoreError({
    rule: "bar-too-long",
    place,
    found: `a bar of ${quarters(found)}`,
    expected: `at most ${quarters(most)}`,
    message: `The bar lasts ${quarters(found)}; ${most.toFraction()} is the most that is read.`,
    hint: "Look for a wrong duration in it, or divide it by barlines.",
  });

export const offsetTooFar = (found: Quarters, place: Place): Finding => ({
  rule: "offset-too-far",
  severity: "warning",
  place,
  found: `an offset of ${quarters(found)}`,
  expected: "an offset within the bars around",
  message: `An offset of ${quarters(found)} leads out of reach; what has it was read where it stands.`,
});

export const chordNoteAlone = (place: Place): Finding => ({
  rule: "chord-note-alone",
  severity: "warning",
  place,
  found: "<chord/> on the first note of the bar",
  expected: "a note before it to share its stem",
  message:
    "A note is marked as part of a chord, but no note comes before it; it was read as a note of its own.",
});

export const barRepeated = (count: number, place: Place): Finding => ({
  rule: "bar-repeat",
  severity: "warning",
  place,
  found: "an empty bar under a bar-repeat sign",
  expected: "the repeated notes",
  message: `The bar is empty under a bar-repeat sign; the music of ${count === 1 ? "the bar" : `${count} bars`} before was taken.`,
});
