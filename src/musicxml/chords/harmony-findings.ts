import type { Finding, Place } from "../../diagnostics.js";

const warning = (
  rule: string,
  place: Place,
  found: string,
  expected: string,
  message: string,
  hint?: string,
): Finding => ({
  rule,
  severity: "warning",
  place,
  found,
  expected,
  message,
  ...(hint === undefined ? {} : { hint }),
});

export const kindUnlisted = (found: string, readAs: string, place: Place) =>
  warning(
    "chord-kind-unlisted",
    place,
    found === "" ? "an empty chord kind" : `the chord kind "${found}"`,
    readAs,
    found === ""
      ? `The chord kind is empty; read as ${readAs}.`
      : `The chord kind "${found}" is not one of MusicXML's; read as ${readAs}.`,
    "Enter the chord symbol again to be certain of it.",
  );

export const kindFromText = (printed: string, readAs: string, place: Place) =>
  warning(
    "chord-kind-unlisted",
    place,
    `the chord kind "other", printed "${printed}"`,
    readAs,
    `The chord kind "other" says nothing; from its printed text "${printed}" it was read as ${readAs}.`,
  );

export const noteNameSpelled = (found: string, readAs: string, place: Place) =>
  warning(
    "chord-root-spelled",
    place,
    `the note name "${found}" in a chord symbol`,
    "a letter from A to G, with its alteration apart",
    `The note name "${found}" of a chord symbol was read as ${readAs}.`,
  );

export const kindUnusable = (found: string, place: Place) =>
  warning(
    "chord-kind-unusable",
    place,
    found === "" ? "an empty chord kind" : `the chord kind "${found}"`,
    "one of MusicXML's chord kinds",
    `The chord kind ${found === "" ? "is empty" : `"${found}" says nothing that can be read`}; only its root and fifth are used.`,
    "Enter the chord symbol again.",
  );

export const textDisagrees = (text: string, kind: string, place: Place) =>
  warning(
    "chord-text-disagrees",
    place,
    `the printed text "${text}" over the kind "${kind}"`,
    "a text and a kind that name the same tones",
    `The chord is printed "${text}" but stated as "${kind}"; what is stated counts.`,
  );

export const severalChords = (place: Place) =>
  warning(
    "polychord",
    place,
    "several chords in one symbol",
    "one chord",
    "One symbol names several chords over each other; the first is harmonised.",
  );

export const romanNumeral = (found: string, place: Place) =>
  warning(
    "chord-function",
    place,
    `the harmonic function "${found}"`,
    "a chord symbol with a root",
    `The harmonic function "${found}" names no root; it was left out.`,
  );

export const rootUnreadable = (found: string, place: Place) =>
  warning(
    "chord-root",
    place,
    found === "" ? "a chord symbol without a root" : `the root "${found}"`,
    "a root from A to G",
    found === ""
      ? "A chord symbol has no root; it was left out."
      : `The root "${found}" is no note name; the chord was left out.`,
  );

export const degreeUnreadable = (found: string, place: Place) =>
  warning(
    "chord-degree",
    place,
    `the degree "${found}"`,
    "a degree from 1 to 13",
    `The chord degree "${found}" cannot be read; it was left out.`,
  );

export const sameTimeChords = (place: Place) =>
  warning(
    "chords-at-one-time",
    place,
    "two chord symbols at one time",
    "one",
    "Two chord symbols stand on one beat, and there is no room to spread them; the first is harmonised.",
    "Give the second a beat of its own.",
  );

/** @param beats where each of them went */
export const chordsSpread = (beats: readonly number[], place: Place) => {
  const spread = `beats ${beats.join(", ")}`.replace(/, ([^,]*)$/, " and $1");
  return warning(
    "chords-spread",
    place,
    `${beats.length} chord symbols on one beat`,
    `one on each of ${spread}`,
    `${beats.length === 2 ? "Two" : beats.length} chord symbols stand on one beat; they were spread over ${spread}.`,
  );
};

export const chordAtBarEnd = (isTaken: boolean, place: Place) =>
  warning(
    "chord-at-bar-end",
    place,
    "a chord symbol at the very end of its bar",
    "a chord symbol on a beat",
    isTaken
      ? "A chord symbol stands at the very end of its bar; it was taken for beat 1 of the next."
      : "A chord symbol stands at the very end of its bar, and the next bar has its own; it was left out.",
  );

export const chordAfterEnd = (place: Place) =>
  warning(
    "chord-after-end",
    place,
    "a chord symbol after the last bar",
    "a chord symbol within the tune",
    "A chord symbol stands after the end of the tune; it was left out.",
  );
