import type { Attack } from "../../arrangement/arrangement.js";
import { ScoreError } from "../../diagnostics.js";
import { fingeringsOf } from "../../guitar/fingering.js";
import { holdingEffort } from "../../guitar/hand-effort.js";
import { type Instrument, lastFretAbove, midiAt, stringCount } from "../../guitar/instrument.js";
import { supportDegrees } from "../../harmony/support-degree.js";
import { isFingerAvoided, isPlaceAvoided } from "../../wishes/avoided.js";
import type { AvoidWish, GripWish, PlayWish, Wish } from "../../wishes/wishes.js";
import type { CostTable } from "../costs/cost-table.js";
import type { TuneEvent } from "../events/tune-events.js";
import { isWishAt } from "../events/wishes-at.js";
import { type Candidate, candidates, supportCount } from "../grips/candidate.js";
import { linesOfGrip } from "./lines-of-grip.js";
import type { SungPitch } from "./sung-placements.js";

/**
 * What the wishes leave of an event's candidates, or put in their place.
 *
 * @param sung What voices under the tune, or a bass, sound at the event: a grip that plays them is theirs.
 * @throws ScoreError naming the wish that leaves nothing, and why; the caller knows the place
 */
export function grantWishes(
  event: TuneEvent,
  candidates: readonly Candidate[],
  wishes: readonly Wish[],
  instrument: Instrument,
  costs: CostTable,
  sung: readonly SungPitch[] = [],
): readonly Candidate[] {
  let left = candidates;
  for (const wish of wishes) {
    if (!isWishAt(wish, event.onset)) continue;
    const before = left;
    if (wish.kind === "grip") left = wishedGrips(wish, event, instrument, costs, sung);
    else if (wish.kind === "play") left = before.filter((one) => isPlayed(wish, one));
    else if (wish.kind === "avoid") left = before.filter((one) => avoids(wish, one));
    if (left.length === 0 && before.length > 0) throw nothingLeft(wish, event, before);
  }
  return left;
}

const isPlayed = (wish: PlayWish, one: Candidate): boolean =>
  (supportCount(one) === 0) === (wish.as === "single");

const avoids = (wish: AvoidWish, one: Candidate): boolean =>
  one.strings.every(
    (note, index) => !isPlaceAvoided(wish, note) && !isFingerAvoided(wish, one.fingers[index] ?? 0),
  );

/** The grip that was asked for, with every way to finger it that keeps the fingers asked for. */
function wishedGrips(
  wish: GripWish,
  event: TuneEvent,
  instrument: Instrument,
  costs: CostTable,
  sung: readonly SungPitch[],
): readonly Candidate[] {
  const wanted = wish.strings.toSorted((a, b) => b.string - a.string);
  const stray = wanted.find(
    (note) => note.string > stringCount(instrument) || note.fret > lastFretAbove(instrument.capo),
  );
  if (stray !== undefined) {
    throw refused(wish, `string ${stray.string}, fret ${stray.fret}`, "The instrument has no such place.");
  }
  if (new Set(wanted.map((note) => note.string)).size < wanted.length) {
    throw refused(wish, gripText(wanted), "A string can sound one note at a time.");
  }
  const midis = wanted.map((note) => midiAt(instrument, note.string, note.fret));
  if (
    event.note !== undefined &&
    (midis.at(-1) !== event.note.midi || Math.max(...midis) !== event.note.midi)
  ) {
    throw refused(
      wish,
      gripText(wanted),
      "Its highest note, on its highest string, has to be the melody note.",
    );
  }
  const strings = wanted.map(({ string, fret }) => ({ string, fret }));
  const fingerings = fingeringsOf(instrument, strings).filter((fingers) =>
    wanted.every((note, index) => note.finger === undefined || note.finger === fingers[index]),
  );
  if (fingerings.length === 0)
    throw refused(wish, gripText(wanted), "No hand can hold it with these fingers.");
  const supports = event.note === undefined ? midis : midis.slice(0, -1);
  const { chord } = event;
  const degrees = supportDegrees(chord, supports);
  const lines = linesOfGrip(instrument, strings.slice(0, supports.length), sung);
  const heldStrings = wanted.slice(0, supports.length).flatMap((note) => (note.isHeld ? [note.string] : []));
  const isPartlyHeld = heldStrings.length > 0 && heldStrings.length < supports.length;
  return fingerings.flatMap((fingers) =>
    candidates(instrument, {
      attack: attackOf(event, supports.length, heldStrings.length),
      ...(isPartlyHeld ? { heldStrings } : {}),
      strings,
      fingers,
      midis,
      degrees,
      ...(lines === undefined ? {} : { lines }),
      cost: holdingEffort(instrument, strings, fingers, costs.hand),
    }),
  );
}

function attackOf(event: TuneEvent, supports: number, held: number): Attack {
  if (supports === 0) return "single";
  if (held === supports) return "held";
  return event.note !== undefined && !event.isNoteOnset ? "under" : "struck";
}

const gripText = (strings: GripWish["strings"]): string =>
  strings
    .map((note) => `string ${note.string} fret ${note.fret}${note.finger ? ` finger ${note.finger}` : ""}`)
    .join(", ");

const refused = (wish: Wish, found: string, why: string): ScoreError =>
  new ScoreError({
    rule: "wish-impossible",
    place: {},
    found,
    expected: "a wish that the rest can be arranged around",
    message: `${wish.wording} cannot be granted: ${found}. ${why}`,
  });

function nothingLeft(wish: Wish, event: TuneEvent, before: readonly Candidate[]): ScoreError {
  const what = event.note === undefined ? "the chord" : "the melody note";
  const why =
    wish.kind === "play"
      ? wish.as === "chord"
        ? "No chord is in force there, or none is in reach under the melody note."
        : "The other wishes leave no single note there."
      : `It leaves none of the ${before.length} ways to play ${what}.`;
  return refused(wish, wish.kind === "play" ? wish.as : "what it forbids", why);
}
