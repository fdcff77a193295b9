import type { Arrangement } from "../arranging/arrangement.js";
import type { Findings } from "../diagnostics.js";
import type { GuitarScore } from "../guitar/guitar-score.js";
import type { Tune } from "../song/tune.js";
import { type CameNote, cameNotes } from "./came-notes.js";
import { fingerNotKept, lengthNotKept, placeAt } from "./edit-findings.js";
import { type EditWishes, soundText } from "./edit-wishes.js";
import { byOnset, type PlayedNote, playedNotes } from "./played-notes.js";

/**
 * Says what of the guitar part that came is not in the new one although its moment was kept: lengths,
 * which follow from the moments, and fingers that could not hold their grip.
 */
export function sayWhatWasNotKept(
  score: GuitarScore,
  tune: Tune,
  arrangement: Arrangement,
  { edits, kept }: EditWishes,
  findings: Findings,
): void {
  const came = byOnset(cameNotes(score, tune, arrangement.instrument));
  const played = byOnset(playedNotes(tune, arrangement));
  for (const { at } of [...edits.map(({ wish }) => wish), ...kept]) {
    for (const note of came.get(at) ?? []) {
      const now = (played.get(at) ?? []).find(
        (other) => other.string === note.string && other.fret === note.fret,
      );
      if (now === undefined) continue;
      const place = placeAt(tune, at);
      if (!now.isMelody && Math.abs(now.end - note.end) > 1e-6)
        findings.add(lengthNotKept(place, soundText(now)));
      if (isOtherFinger(note, now)) findings.add(fingerNotKept(place, fingerText(note)));
    }
  }
}

const isOtherFinger = ({ finger }: CameNote, now: PlayedNote): boolean =>
  finger !== undefined && finger > 0 && now.finger !== finger;

const fingerText = ({ finger, string, fret }: CameNote): string =>
  `finger ${finger} on string ${string} fret ${fret}`;
