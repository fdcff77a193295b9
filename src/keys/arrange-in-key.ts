import type { Arrangement } from "../arrangement/arrangement.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangeTune } from "../arranging/arrange-tune.js";
import { refuseContradiction } from "../arranging/conflicting-wishes.js";
import { type GraceNote, gracePlacements } from "../arranging/grace-placements.js";
import { type Findings, ScoreError } from "../diagnostics.js";
import { type Transposition, transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import type { KeyWish } from "../wishes/key-wish.js";
import { bestKey } from "./best-key.js";
import { chooseKey } from "./choose-key.js";

/** What decides how a tune is arranged. */
export interface AskedFor {
  readonly wishes: TuneWishes;
  readonly key: KeyWish;
}

/**
 * From a tune to a grip for every moment of it, in the key that was asked for. `graces` are its grace notes as
 * they are written; they are fingered after the path is chosen, and take no part in it.
 *
 * @throws ScoreError where the tune cannot be played as asked or wished
 */
export function arrangeInKey(
  tune: Tune,
  graces: readonly GraceNote[],
  { wishes, key }: AskedFor,
  findings: Findings,
): Arrangement {
  const best = key.kind === "best" ? bestKey(tune, wishes) : undefined;
  if (best !== undefined) return withGraces(best, graces, wishes);
  const { transposition, board } = chooseKey(tune, wishes, key, findings);
  const asked = { ...wishes, ...board };
  const moved = transposedTune(tune, transposition);
  const arrangement = arrangeTune(moved, transposition, asked);
  if (arrangement !== undefined) return withGraces(arrangement, graces, asked);
  refuseContradiction(moved, asked);
  throw noWayThrough();
}

const withGraces = (
  arrangement: Arrangement,
  graces: readonly GraceNote[],
  wishes: TuneWishes,
): Arrangement => ({
  ...arrangement,
  graces: gracePlacements(soundingGraces(graces, arrangement.transposition), arrangement, wishes),
});

/** Grace notes as the guitar sounds them. */
export const soundingGraces = (
  graces: readonly GraceNote[],
  { semitones }: Transposition,
): readonly GraceNote[] => graces.map((grace) => ({ ...grace, midi: grace.midi + semitones }));

const noWayThrough = () =>
  new ScoreError({
    rule: "no-way-through",
    place: {},
    found: "a melody that no sequence of grips plays",
    expected: "more strings, more frets or another key",
    message: "No way was found to play this melody from its first note to its last.",
  });
