import type { Arrangement } from "../arrangement/arrangement.js";
import { byOnset, playedNotes } from "../arrangement/played-notes.js";
import type { TuneWishes } from "../arranging/arrange-settings.js";
import { grantWishes } from "../arranging/candidates/wished-grips.js";
import { COSTS } from "../arranging/costs/cost-table.js";
import { type TuneEvent, tuneEvents } from "../arranging/events/tune-events.js";
import { isWishAt } from "../arranging/events/wishes-at.js";
import { type Finding, type Findings, ScoreError } from "../diagnostics.js";
import { LET_RING } from "../musicxml/players-marks/mark-kinds.js";
import { countOnRecord } from "../musicxml/players-marks/marks-on-record.js";
import { measureIndexAt } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import type { GripWish, Wish, WishedString } from "../wishes/wishes.js";
import {
  editNotHeld,
  editRefused,
  leftOutBeside,
  placeAt,
  placesLost,
  stavesContradict,
  symbolsBeside,
  wordingAt,
} from "./edit-findings.js";
import { type FingeredNote, fingeredNotes } from "./fingered.js";
import {
  attacksOutside,
  type ReturnedNote,
  type ReturnedPart,
  returnedNotes,
  soundText,
} from "./guitar-part-notes.js";
import { leftRinging } from "./left-ringing.js";
import { hasTwoStaves, wasWrittenIn } from "./lone-notes.js";
import { type ReconciledNote, reconciledMoment } from "./reconciled-notes.js";
import { tuneChanges } from "./tune-changes.js";
import { uneditedAt } from "./unedited-measures.js";
import { isSameGrip, wishedString, writtenGrip } from "./written-grips.js";

/** What a guitar part that came back wishes of the arrangement, moment by moment. */
export interface EditWishes {
  /** Moments that differ from what was written: the player's own. */
  readonly edits: readonly Edit[];
  /** Moments that are as they were written, to stay so. */
  readonly kept: readonly GripWish[];
  /** Moments at which melody or chord are no longer those that the part was made from: to be arranged anew. */
  readonly anew: readonly number[];
  /** Every moment is as it was written. */
  readonly isAsWritten: boolean;
}

export interface Edit {
  readonly wish: GripWish;
  /** What was there before. */
  readonly written: readonly WishedString[];
}

/**
 * The wishes in a guitar part that came back. `fresh` is the arrangement of the tune as it was written,
 * before the player changed it; `tune` lies where the guitar plays it. An edit that no hand can hold, or
 * that is not under the melody, is a finding and not a wish.
 */
export function wishesFromEdits(
  fresh: Arrangement,
  tune: Tune,
  back: ReturnedPart,
  wishes: TuneWishes,
  findings: Findings,
): EditWishes {
  const { instrument } = fresh;
  const { guitar: score, digests } = back;
  const notes = returnedNotes(score, tune, instrument);
  const changes = tuneChanges(tune, score, digests);
  for (const [measure, count] of attacksOutside(score, tune))
    findings.add(leftOutBeside({ measure: measure + 1 }, count));
  for (const at of changes.symbolsBesideTune) findings.add(symbolsBeside(placeAt(tune, at)));
  const measureOf = (tick: number) => measureIndexAt(tune, tick);
  const isUnedited = uneditedAt(back, tune, instrument);
  if (notes.length > 0 && notes.every(({ placeMidi }) => placeMidi === undefined)) findings.add(placesLost());
  const returned = byOnset(notes);
  const written = byOnset(playedNotes(tune, fresh));
  const staffCount = hasTwoStaves(score) ? 2 : 1;
  const tiedNotesIn = (measure: number) =>
    digests === undefined
      ? Number.POSITIVE_INFINITY
      : countOnRecord(digests, tune.measures.length, measure, LET_RING) / staffCount;
  const left = leftRinging(fresh, tune, returned, tiedNotesIn);
  const melodyVoice = voiceOfMelody(notes, tune);
  const known = new Set(tuneEvents(tune, wishes.tempo, wishes.rests).map(({ onset }) => onset));
  const moments = ownMoments();
  /** Moments of a bass or of other voices, at which what rings has to ring on. */
  const ofVoices = fresh.events
    .map(({ onset }) => onset)
    .filter((at) => !known.has(at) && !moments.includes(at));
  const freshEvents = new Map(fresh.events.map((event) => [event.onset, event]));
  const staves = {
    hasNotation: score.layout !== "tab",
    hasTab: score.layout !== "notation",
    wasWritten: wasWrittenIn(back, tune, instrument),
  };

  const edits: Edit[] = [];
  const kept: GripWish[] = [];
  const anew: number[] = [];
  /** What was struck and may ring on; a note of the melody rings to its end. */
  let sounding: readonly FingeredNote[] = [];
  /** Ends of what began at, or rang into, a moment that is arranged anew: what hangs on it goes with it. */
  const cutOff: number[] = [];
  let melody: FingeredNote | undefined;
  /** Position of that note in the tune. */
  let melodyNote: number | undefined;
  let differs = false;
  for (const event of tuneEvents(tune, wishes.tempo, wishes.rests, [...moments, ...ofVoices])) arrange(event);
  return { edits, kept, anew, isAsWritten: edits.length === 0 && anew.length === 0 && !differs };

  function arrange(event: TuneEvent): void {
    const { onset } = event;
    const startsNote = event.isNoteOnset && event.note !== undefined;
    if (startsNote) sounding = [...sounding, ...melodyLeftRinging()];
    const ringing = sounding.filter((note) => note.end > onset);
    if (startsNote) melody = undefined;
    const isCutOff = cutOff.some((end) => end > onset);
    const lacksMelody = event.note !== undefined && !startsNote && melody === undefined;
    if (changes.isChordChangedAt(onset) || isCutOff || lacksMelody || isAskedAt(wishes.wishes, onset)) {
      arrangeAnew(event);
      return;
    }
    const {
      notes: reconciled,
      disputes,
      isTabBehindMelody,
    } = reconciledMoment(
      returned.get(onset) ?? [],
      written.get(onset) ?? [],
      startsNote ? event.note?.midi : undefined,
      staves,
    );
    if (isTabBehindMelody && changes.isMelodyUnchanged(measureOf(onset)) === false) {
      arrangeAnew(event);
      return;
    }
    for (const dispute of disputes) findings.add(stavesContradict(placeAt(tune, onset), dispute));
    if (reconciled === undefined) {
      if (startsNote && changes.isMelodyUnchanged(measureOf(onset)) !== false) sayMelodyGone(event);
      arrangeAnew(event);
      return;
    }
    // A moment of the player's own at which nothing is struck is none: what rings, rings on over it.
    const isOwn = moments.includes(onset);
    const isBesideTune = !known.has(onset);
    if (reconciled.length === 0 && (isOwn || (isBesideTune && ringing.length === 0))) return;
    if (!take(event, reconciled, ringing) && !isBesideTune && !takeWritten(event, ringing))
      arrangeAnew(event);
  }

  /** The melody note of before, as one of the notes under the next. */
  function melodyLeftRinging(): readonly FingeredNote[] {
    const end = melody && left.until(melodyNote ?? -1, melody);
    return melody === undefined || end === undefined ? [] : [{ ...melody, end }];
  }

  function arrangeAnew({ onset, note: ofTune, isNoteOnset }: TuneEvent): void {
    anew.push(onset);
    const hanging = [...sounding, ...(returned.get(onset) ?? [])].filter((note) => note.end > onset);
    cutOff.push(...hanging.map(({ end }) => end));
    if (isNoteOnset && ofTune !== undefined) cutOff.push(left.writtenUntil(ofTune.index));
    sounding = [];
    melody = undefined;
  }

  /** Makes a wish of what came at a moment; false, with a finding, where that cannot be. */
  function take(
    event: TuneEvent,
    struck: readonly ReconciledNote[],
    before: readonly FingeredNote[],
  ): boolean {
    const whole = attempt(event, struck, before);
    const chordAlone = before.filter(({ isMelody }) => !isMelody);
    // The melody note of before is left ringing only where hand and tune leave it.
    const taken =
      "refused" in whole && chordAlone.length < before.length ? attempt(event, struck, chordAlone) : whole;
    if ("refused" in taken) {
      findings.add(taken.refused);
      return false;
    }
    const { wish, supports, top } = taken;
    sounding = supports;
    melody = top;
    melodyNote = event.note?.index;
    const then = writtenGrip(fresh, freshEvents.get(event.onset), tune);
    const isSame = isSameGrip(then, wish.strings);
    if (!isSame) differs = true;
    if (isSame || (isUnedited(event.onset) && !left.isCutAt(event.onset))) kept.push(wish);
    else edits.push({ wish, written: then });
    return true;
  }

  function attempt(
    event: TuneEvent,
    struck: readonly ReconciledNote[],
    before: readonly FingeredNote[],
  ):
    | {
        readonly wish: GripWish;
        readonly supports: readonly FingeredNote[];
        readonly top: FingeredNote | undefined;
      }
    | { readonly refused: Finding } {
    const place = placeAt(tune, event.onset);
    const restruck = new Set(struck.map((note) => note.place?.string));
    const ringing = before.filter((note) => !restruck.has(note.string));
    const ringsOver =
      event.isNoteOnset || event.note === undefined || melody === undefined ? ringing : [...ringing, melody];
    const fingered = fingeredNotes(struck, ringsOver, instrument);
    if (fingered === undefined)
      return {
        refused: editNotHeld(
          place,
          [...struck, ...ringsOver].map(soundText).join(", "),
          stringTakenTwice(struck),
        ),
      };
    const supports = [
      ...ringing.map((note) => ({ ...note, isMelody: false })),
      ...fingered.filter((note) => !note.isMelody),
    ];
    const top = fingered.find((note) => note.isMelody) ?? (event.note === undefined ? undefined : melody);
    const strings = [
      ...supports.map((note) => wishedString(note, note.onset < event.onset)),
      ...(top === undefined ? [] : [wishedString(top, false)]),
    ].toSorted((a, b) => b.string - a.string);
    const wish: GripWish = {
      kind: "grip",
      at: event.onset,
      strings,
      wording: wordingAt(tune, event.onset),
      ...(moments.includes(event.onset) ? { isOwnMoment: true } : {}),
    };
    const why = refusal(event, wish);
    return why === undefined ? { wish, supports, top } : { refused: editRefused(place, strings, why) };
  }

  /** The grip from before an impossible edit, where it goes with what is around it. */
  function takeWritten(event: TuneEvent, ringing: readonly FingeredNote[]): boolean {
    const struck = (written.get(event.onset) ?? []).map(
      (note): ReconciledNote => ({
        ...note,
        place: { string: note.string, fret: note.fret },
        nearString: note.string,
        isFingerStale: false,
        isFingerChanged: false,
      }),
    );
    if (struck.length === 0 && event.isNoteOnset) return false;
    const fingered = fingeredNotes(struck, ringing, instrument);
    const isPossible = fingered !== undefined;
    return isPossible && take(event, struck, ringing);
  }

  function refusal(event: TuneEvent, wish: GripWish): string | undefined {
    const { frets } = wishes.instrument;
    const highest = Math.max(...wish.strings.map(({ fret }) => fret));
    if (frets < instrument.frets && highest > frets)
      return `Fret ${highest} is beyond fret ${frets}, the highest asked for now.`;
    try {
      grantWishes(event, [], [wish], instrument, COSTS);
      return undefined;
    } catch (error) {
      if (!(error instanceof ScoreError)) throw error;
      return error.message.slice(error.message.indexOf(". ") + 2);
    }
  }

  /** Times at which the guitar strikes something although nothing of the tune begins. */
  function ownMoments(): readonly number[] {
    return [...returned].flatMap(([onset, here]) => {
      if (known.has(onset)) return [];
      const isWhole = Number.isInteger(onset);
      const isOldMelody =
        here.some(({ voice }) => voice === melodyVoice) &&
        changes.isMelodyUnchanged(measureOf(onset)) !== true;
      if (isWhole && !isOldMelody) return [onset];
      findings.add(leftOutBeside(placeAt(tune, onset), here.length));
      return [];
    });
  }

  function sayMelodyGone({ onset, note }: TuneEvent): void {
    const here = returned.get(onset) ?? [];
    if (note === undefined || here.length === 0) return;
    const found = here.map(soundText).join(", ");
    findings.add(stavesContradict(placeAt(tune, onset), { kind: "melody", found, taken: soundText(note) }));
  }
}

const stringTakenTwice = (struck: readonly ReconciledNote[]): number | undefined =>
  struck
    .map(({ place }) => place?.string)
    .find((string, index, all) => string !== undefined && all.indexOf(string) < index);

/** Whether the player asks for something at a moment beside what the score shows: then that counts. */
export const isAskedAt = (wishes: readonly Wish[], tick: number): boolean =>
  wishes.some((wish) => isWishAt(wish, tick));

/** The voice in which the guitar part has the tune, as its labels are now. */
function voiceOfMelody(returned: readonly ReturnedNote[], tune: Tune): string | undefined {
  const counts = new Map<string, number>();
  const melody = new Map(tune.melody.map(({ onset, midi }) => [onset, midi]));
  for (const { onset, midi, voice } of returned)
    if (melody.get(onset) === midi) counts.set(voice, (counts.get(voice) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
}
