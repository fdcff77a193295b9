import type { Arrangement } from "../arrangement/arrangement.js";
import { byOnset, type PlayedNote, playedNotes } from "../arrangement/played-notes.js";
import type { Findings } from "../diagnostics.js";
import type { GuitarScore } from "../guitar/guitar-score.js";
import type { Tune } from "../song/tune.js";
import type { GripWish } from "../wishes/wishes.js";
import { fingerNotKept, lengthNotKept, placeAt } from "./edit-findings.js";
import { type ReturnedNote, returnedNotes, soundText } from "./guitar-part-notes.js";

/**
 * Says what of the guitar part that came is not in the new one although its moment was kept: lengths,
 * which follow from the moments, and fingers of the player's own that could not hold their grip.
 */
export function sayLostEdits(
  score: GuitarScore,
  tune: Tune,
  written: Arrangement,
  arrangement: Arrangement,
  kept: readonly GripWish[],
  findings: Findings,
): void {
  const returned = byOnset(returnedNotes(score, tune, arrangement.instrument));
  const before = byOnset(playedNotes(tune, written));
  const now = byOnset(playedNotes(tune, arrangement));
  for (const { at } of kept) {
    for (const note of returned.get(at) ?? []) {
      const played = now.get(at)?.find((other) => isSamePlace(note, other));
      if (played === undefined) continue;
      const place = placeAt(tune, at);
      if (!played.isMelody && Math.abs(played.end - note.end) > ROUNDING_TICKS)
        findings.add(lengthNotKept(place, soundText(played)));
      const then = before.get(at)?.find((other) => isSamePlace(note, other));
      if (isFingerLost(note, then, played)) findings.add(fingerNotKept(place, fingerText(note)));
    }
  }
}

const ROUNDING_TICKS = 1e-6;

const isSamePlace = (note: ReturnedNote, other: PlayedNote): boolean =>
  note.string === other.string && note.fret === other.fret;

/** A finger that was there before goes with the grip; one that the player wrote ought to have stayed. */
const isFingerLost = ({ finger }: ReturnedNote, then: PlayedNote | undefined, now: PlayedNote): boolean =>
  finger !== undefined && finger > 0 && now.finger !== finger && then !== undefined && then.finger !== finger;

const fingerText = ({ finger, string, fret }: ReturnedNote): string =>
  `finger ${finger} on string ${string} fret ${fret}`;
