import type { Finding, Place } from "../diagnostics.js";
import { measurePlace } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { gripText } from "../wishes/grip-text.js";
import type { WishedString } from "../wishes/wishes.js";
import type { Dispute } from "./reconciled-notes.js";

/** Where a tick of the tune stands, in the words of a finding. */
export const placeAt = (tune: Tune, tick: number): Place => measurePlace(tune, tick) ?? {};

/** "the edit in measure 5, beat 1". */
export function wordingAt(tune: Tune, tick: number): string {
  const { measure, beat } = placeAt(tune, tick);
  return `the edit in measure ${measure ?? 1}, beat ${beat ?? 1}`;
}

export const editKept = (
  place: Place,
  written: readonly WishedString[],
  kept: readonly WishedString[],
): Finding => ({
  rule: "edit-kept",
  severity: "note",
  place,
  found: gripText(kept),
  expected: gripText(written),
  message: `Kept as it came: ${gripText(kept)}, in place of ${gripText(written)}.`,
});

export const mostlyOther = (edits: number, moments: number): Finding => ({
  rule: "edits-kept",
  severity: "note",
  place: {},
  found: `${edits} of ${moments} moments that differ from what these options give`,
  expected: "the guitar part as it was written",
  message: `The guitar part that came was kept: ${edits} of its ${moments} moments differ from what these options give.`,
  hint: "To have it arranged afresh, give the option edits with the value discard.",
});

export const placesLost = (): Finding => ({
  rule: "places-lost",
  severity: "warning",
  place: {},
  found: "a guitar part without strings and frets",
  expected: "a TAB staff",
  message: "The guitar part came without strings and frets; they are as arranged, where the pitches are.",
  hint: "If you changed some in the TAB, export the score with its TAB staff.",
});

/** `why` is a sentence. */
export const editRefused = (place: Place, grip: readonly WishedString[], why: string): Finding => ({
  rule: "edit-impossible",
  severity: "warning",
  place,
  found: gripText(grip),
  expected: "a grip that a hand can hold, with the melody on top",
  message: `What came here cannot be kept: ${gripText(grip)}. ${why} The grip from before the edit, or another, is used.`,
});

export const editNotHeld = (place: Place, pitches: string, taken: number | undefined): Finding => ({
  rule: "edit-impossible",
  severity: "warning",
  place,
  found: pitches,
  expected: "a grip that a hand can hold, with the melody on top",
  message: `${taken === undefined ? "No hand can hold what came here" : `String ${taken} cannot sound two notes of what came here`}: ${pitches}. The grip from before the edit, or another, is used.`,
});

export const stavesContradict = (place: Place, { kind, found, taken }: Dispute): Finding =>
  kind === "melody"
    ? {
        rule: "edit-off-melody",
        severity: "warning",
        place,
        found,
        expected: `${taken}, the note of the tune`,
        message: `The guitar part has ${found} where the tune has ${taken}; the tune counts.`,
        hint: "Change the note in the lead sheet, and the guitar part follows.",
      }
    : {
        rule: "edits-contradict",
        severity: "warning",
        place,
        found,
        expected: "the same in notation and TAB, or a change in one of them",
        message: `Notation and TAB contradict each other: ${found}. ${taken} was taken.`,
        hint: "Change one of the two staves; the other follows.",
      };

export const arrangedAnew = (place: Place, moments: number): Finding => ({
  rule: "arranged-anew",
  severity: "note",
  place: withoutBeat(place),
  found: "another melody or chord than the guitar part was made from",
  expected: "the tune as it was",
  message: `The tune changed here: ${moments} moment${moments === 1 ? "" : "s"} of this measure ${moments === 1 ? "is" : "are"} arranged anew.`,
});

export const symbolsBeside = (place: Place): Finding => ({
  rule: "chord-symbol-beside-tune",
  severity: "warning",
  place,
  found: "another chord symbol over the guitar part than over the lead sheet",
  expected: "the chord symbol changed in the lead sheet",
  message: "The chord symbol over the guitar part was changed; that of the lead sheet counts.",
  hint: "Change the chord symbol in the lead sheet, and the guitar part follows.",
});

export const leftOutBeside = (place: Place, count: number): Finding => ({
  rule: "edit-left-out",
  severity: "warning",
  place,
  found: `${count} note${count === 1 ? "" : "s"} of the guitar part where the tune has none to hang on`,
  expected: "notes under the tune",
  message: `${count} note${count === 1 ? "" : "s"} of the guitar part ${count === 1 ? "was" : "were"} left out: the tune has no note here any more.`,
});

export const lengthNotKept = (place: Place, found: string): Finding => ({
  rule: "edit-length",
  severity: "note",
  place,
  found,
  expected: "a supporting note that lasts until something is struck or the melody note ends",
  message: `${found} has another length than it came with: supporting notes ring until the next moment.`,
});

export const fingerNotKept = (place: Place, found: string): Finding => ({
  rule: "edit-finger",
  severity: "warning",
  place,
  found,
  expected: "fingers that can hold the grip together",
  message: `The finger that came cannot hold the grip: ${found}.`,
});

export const neighboursMoved = (place: Place, count: number): Finding => ({
  rule: "edit-out-of-reach",
  severity: "warning",
  place,
  found: `${count} moment${count === 1 ? "" : "s"} beside the edit from which the hand could not get there in time`,
  expected: "grips that the hand reaches in time",
  message: `The hand could not get to the edit in time; ${count} moment${count === 1 ? "" : "s"} beside it ${count === 1 ? "is" : "are"} arranged anew.`,
});

export const restNotKept = (): Finding => ({
  rule: "edits-not-kept",
  severity: "warning",
  place: {},
  found: "a guitar part that does not go together as it came",
  expected: "grips that follow from one another",
  message: "What came does not go together with the tune as it is; only what could be kept was.",
});

const withoutBeat = ({ measure, measureLabel }: Place): Place => ({
  ...(measure === undefined ? {} : { measure }),
  ...(measureLabel === undefined ? {} : { measureLabel }),
});
