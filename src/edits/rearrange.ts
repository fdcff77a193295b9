import type { Arrangement } from "../arrangement/arrangement.js";
import { melodyDigest } from "../arrangement/measure-digests.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { arrangeTune } from "../arranging/arrange-tune.js";
import type { Fretboard } from "../arranging/candidates/struck-grips.js";
import { type GraceNote, gracePlacements } from "../arranging/grace-placements.js";
import { type Finding, Findings, ScoreError } from "../diagnostics.js";
import type { GuitarScore } from "../guitar/guitar-score.js";
import { type AskedFor, soundingGraces } from "../keys/arrange-in-key.js";
import { boardAt, chooseKey, type KeyChoice, notesOutside, transpositionBy } from "../keys/choose-key.js";
import { type Transposition, transposedTune } from "../song/transposition.js";
import type { Tune } from "../song/tune.js";
import { arrangeAroundEdits } from "./arrange-around-edits.js";
import { type ReturnedPart, tuneTick } from "./guitar-part-notes.js";
import { keptGraces } from "./kept-graces.js";

/** A tune arranged around what a player changed in its guitar part, grace notes aside. */
interface Rearranged {
  readonly arrangement: Arrangement;
  readonly wishes: TuneWishes;
  /** As it was written, before the player changed it, and for what strings of the melody. */
  readonly fresh: Arrangement;
  readonly freshBoard: Fretboard;
}

/**
 * Arranges a tune whose guitar part came back: afresh with the options it was `made` with, then as asked
 * `now` around what the player changed. undefined, with a finding, where the part that came is in another
 * key or for other strings than asked now, so that nothing of it can be kept. `graces` are the tune's grace
 * notes as they are written.
 */
export function rearrange(
  tune: Tune,
  graces: readonly GraceNote[],
  returned: ReturnedPart,
  made: AskedFor,
  now: AskedFor,
  findings: Findings,
): Arrangement | undefined {
  const path = rearranged(tune, returned, made, now, findings);
  if (path === undefined) return undefined;
  const { arrangement, wishes, fresh, freshBoard } = path;
  const { transposition, instrument } = arrangement;
  const sounding = soundingGraces(graces, transposition);
  const written = gracePlacements(sounding, fresh, freshBoard);
  const moved = transposedTune(tune, transposition);
  const kept = keptGraces(sounding, written, moved, returned, instrument, findings);
  return { ...arrangement, graces: gracePlacements(sounding, arrangement, wishes, kept) };
}

function rearranged(
  tune: Tune,
  returned: ReturnedPart,
  made: AskedFor,
  now: AskedFor,
  findings: Findings,
): Rearranged | undefined {
  const reason = whyNothingIsKept(tune, returned.guitar, made, now);
  if (reason !== undefined) {
    findings.add(nothingKept(reason));
    return undefined;
  }
  const semitones = movedBy(tune, returned.guitar) ?? 0;
  const then = placeOf(tune, semitones, made);
  const place = returned.isRestKept ? then : placeOf(tune, semitones, now);
  const { transposition } = then;
  const moved = transposedTune(tune, transposition);
  if (!returned.isRestKept && isBeyond(tune, transposition, made.wishes, now.wishes)) {
    findings.add(nothingKept(BEYOND));
    return undefined;
  }
  const fresh = arrangeTune(moved, transposition, { ...made.wishes, ...then.board, wishes: [] });
  if (fresh === undefined) {
    findings.add(nothingKept(BEYOND));
    return undefined;
  }
  // Where nothing of it is new, it was said when the part was first arranged.
  if (!returned.isRestKept || returned.digests?.melody !== melodyDigest(moved))
    for (const finding of place.said) findings.add(finding);
  const wishes = { ...now.wishes, ...place.board };
  const arrangement = arrangeAroundEdits(fresh, moved, returned, wishes, findings);
  if (arrangement === undefined) findings.add(nothingKept(BEYOND));
  return arrangement && { arrangement, wishes, fresh, freshBoard: then.board };
}

const BEYOND = "needs more of the neck than there is or is asked for now";

/** Whether the melody lay where it was to lie then, and does not lie where it is to lie now. */
const isBeyond = (tune: Tune, { semitones }: Transposition, made: Fretboard, now: Fretboard): boolean =>
  notesOutside(tune, made, semitones).length < notesOutside(tune, now, semitones).length;

function whyNothingIsKept(tune: Tune, score: GuitarScore, made: AskedFor, now: AskedFor): string | undefined {
  const strings = ({ wishes: { instrument } }: AskedFor) => `${instrument.openStrings} ${instrument.capo}`;
  if (strings(made) !== strings(now)) return "is for another tuning or capo";
  if (JSON.stringify(made.key) !== JSON.stringify(now.key)) return "is in another key";
  return movedBy(tune, score) === undefined ? "plays another tune" : undefined;
}

/** Share of the moments of both at which a guitar part has the tune on top, moved by one distance, to play that tune. */
const SAME_TUNE = 0.5;

/** Semitones from the tune to what the guitar plays: the distance that its notes have on top; undefined for another tune. */
function movedBy(tune: Tune, score: GuitarScore): number | undefined {
  const tops = new Map<number, number>();
  for (const { kind, onset, measure, midi } of score.notes) {
    const at = tuneTick(score, tune, measure, onset);
    if (kind === "note" && at !== undefined) tops.set(at, Math.max(midi, tops.get(at) ?? midi));
  }
  const counts = new Map<number, number>();
  let moments = 0;
  for (const { onset, midi } of tune.melody) {
    const top = tops.get(onset);
    if (top === undefined) continue;
    moments += 1;
    counts.set(top - midi, (counts.get(top - midi) ?? 0) + 1);
  }
  const [most] = [...counts].sort((a, b) => b[1] - a[1] || Math.abs(a[0]) - Math.abs(b[0]));
  return most !== undefined && most[1] >= SAME_TUNE * moments ? most[0] : undefined;
}

/** A guitar part's place on the neck, and what is to be said of it. */
interface Place {
  readonly transposition: Transposition;
  readonly board: Fretboard;
  readonly said: readonly Finding[];
}

/** The place of the guitar part that came, spelled as the key asked for is spelled: it stays there, whatever lies nearer now. */
function placeOf(tune: Tune, semitones: number, { wishes, key }: AskedFor): Place {
  const said = new Findings();
  const chosen = key.kind === "best" ? undefined : keyChosen(tune, wishes, key, said);
  if (chosen?.transposition.semitones === semitones)
    return { transposition: chosen.transposition, board: boardOf(chosen.board), said: said.all };
  const saidThere = new Findings();
  const board = boardOf(boardAt(tune, wishes, semitones, saidThere));
  return { transposition: transpositionBy(tune, semitones), board, said: saidThere.all };
}

/** Nothing but the board: the rest of the wishes is another matter. */
const boardOf = ({ instrument, melodyStrings }: Fretboard): Fretboard => ({ instrument, melodyStrings });

/** undefined where the tune fits nowhere as asked. */
function keyChosen(...asked: Parameters<typeof chooseKey>): KeyChoice | undefined {
  try {
    return chooseKey(...asked);
  } catch (error) {
    if (error instanceof ScoreError) return undefined;
    throw error;
  }
}

const nothingKept = (reason: string): Finding => ({
  rule: "edits-not-kept",
  severity: "warning",
  place: {},
  found: `a guitar part that ${reason}`,
  expected: "the tune in the key and on the strings asked for",
  message: `The guitar part that came ${reason}: nothing in it could be kept.`,
});
