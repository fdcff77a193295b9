import type { ArrangedEvent, Arrangement, Placement } from "../arrangement/arrangement.js";
import { placementsAt } from "../arrangement/hand-moves.js";
import type { Finding } from "../diagnostics.js";
import { TIRING_BARRE_STRINGS } from "../guitar/fingering.js";
import { fingerPair, fretDistanceMm, handSizeOf, strainMm } from "../guitar/hand-reach.js";
import { secondsBetween } from "../song/playing-time.js";
import type { Tune } from "../song/tune.js";
import { momentAt } from "./moment.js";

/** Seconds without a pause from which on a barre counts as long. */
// Our own: teachers warn of barres held for long, and no source found gives a figure.
const LONG_BARRE_SECONDS = 5;

/** What to do about all of them. Signs to stop at: M. Turner, physiotherapist, guitar-bass.net 2014. */
const CARE =
  "Warm up, and stop at pain, numbness or tingling; a teacher, or a doctor if it hurts again, can say more (docs/hands.md).";

/** What in an arrangement a player's hand should be careful with: at most one note a rule, at its hardest place. */
export const cautionsOn = (
  tune: Tune,
  arrangement: Arrangement,
  tempo: number | undefined,
): readonly Finding[] =>
  [wideReaches(tune, arrangement), longBarres(tune, arrangement, tempo)].filter(
    (finding) => finding !== undefined,
  );

interface Reach {
  readonly fingers: string;
  readonly distanceMm: number;
  /** How far beyond the span at which these fingers begin to strain. */
  readonly beyondMm: number;
}

function wideReaches(tune: Tune, arrangement: Arrangement): Finding | undefined {
  const wide = arrangement.events
    .map((event) => ({ event, reach: widestPair(tune, arrangement, event) }))
    .filter(({ reach }) => reach.beyondMm > 0);
  const [widest] = wide.toSorted((one, other) => other.reach.beyondMm - one.reach.beyondMm);
  if (widest === undefined) return undefined;
  const { fingers, distanceMm, beyondMm } = widest.reach;
  const many = wide.length === 1 ? "One grip reaches" : `${wide.length} grips reach`;
  return {
    rule: "reach-beyond-relaxed",
    severity: "note",
    place: momentAt(tune, widest.event.onset),
    found: `${distanceMm.toFixed(0)} mm between ${fingers}`,
    expected: `up to ${(distanceMm - beyondMm).toFixed(0)} mm between them at ease`,
    message: `${many} further than a hand of this size lies at ease; the widest here, ${distanceMm.toFixed(0)} mm between ${fingers}.`,
    hint: CARE,
  };
}

/**
 * The two fingers of a grip that are furthest beyond their relaxed span, one of them at least put to a string that is
 * struck: of two that ring on it was said when they were. A check of the score counts alike.
 */
function widestPair(tune: Tune, arrangement: Arrangement, event: ArrangedEvent): Reach {
  const { instrument } = arrangement;
  const ringsOn = ringingOn(tune, arrangement, event);
  const stopped = placementsAt(arrangement, event).filter(({ finger }) => finger > 0);
  let widest: Reach = { fingers: "", distanceMm: 0, beyondMm: 0 };
  for (const lower of stopped) {
    for (const higher of stopped) {
      if (lower.finger >= higher.finger || (ringsOn.includes(lower) && ringsOn.includes(higher))) continue;
      const distanceMm = fretDistanceMm(instrument, lower.fret, higher.fret);
      const pair = fingerPair(lower.finger, higher.finger);
      const beyondMm = strainMm(pair, distanceMm, handSizeOf(instrument));
      if (beyondMm > widest.beyondMm)
        widest = { fingers: `fingers ${lower.finger} and ${higher.finger}`, distanceMm, beyondMm };
    }
  }
  return widest;
}

/** What sounds at an event and was struck before it. */
function ringingOn(tune: Tune, arrangement: Arrangement, event: ArrangedEvent): readonly Placement[] {
  const note = event.melodyNote ?? -1;
  const melody = arrangement.melody[note];
  const isTuneHeld = melody !== undefined && tune.melody[note]?.onset !== event.onset;
  return [
    ...event.supports
      .flatMap((index) => arrangement.supports[index] ?? [])
      .filter(({ onset, leftByMelody }) => onset !== event.onset || leftByMelody !== undefined),
    ...(isTuneHeld ? [melody] : []),
  ];
}

function longBarres(tune: Tune, arrangement: Arrangement, tempo: number | undefined): Finding | undefined {
  const long = barreSpells(tune, arrangement, tempo).filter(({ seconds }) => seconds > LONG_BARRE_SECONDS);
  const [longest] = long.toSorted((one, other) => other.seconds - one.seconds);
  if (longest === undefined) return undefined;
  const many = long.length === 1 ? "" : `, the longest of ${long.length} such spells`;
  return {
    rule: "barre-long",
    severity: "note",
    place: momentAt(tune, longest.from),
    found: `a barre for ${longest.seconds.toFixed(1)} s`,
    expected: `up to ${LONG_BARRE_SECONDS} s without a pause`,
    message: `From here a finger bars for ${longest.seconds.toFixed(1)} s without a pause${many}.`,
    hint: CARE,
  };
}

/** Stretches of time through which one grip after the other is barred, whatever the fret. */
function barreSpells(
  tune: Tune,
  arrangement: Arrangement,
  tempo: number | undefined,
): readonly { readonly from: number; readonly seconds: number }[] {
  const spells: { from: number; until: number; seconds: number }[] = [];
  arrangement.events.forEach((event, index) => {
    if (!event.barres.some(({ from, to }) => from - to + 1 >= TIRING_BARRE_STRINGS)) return;
    const until = endOf(tune, arrangement, event, arrangement.events[index + 1]?.onset);
    const seconds = secondsBetween(tune, event.onset, until, tempo);
    const last = spells.at(-1);
    if (last?.until === event.onset) {
      last.until = until;
      last.seconds += seconds;
    } else spells.push({ from: event.onset, until, seconds });
  });
  return spells;
}

/** When the hand lets go: at the next event, or where all that sounds has ended before it. */
function endOf(
  tune: Tune,
  arrangement: Arrangement,
  event: ArrangedEvent,
  next = Number.POSITIVE_INFINITY,
): number {
  const note = tune.melody[event.melodyNote ?? -1];
  const supports = event.supports.map((index) => arrangement.supports[index]?.end ?? 0);
  const sounding = Math.max(event.onset, ...supports, note === undefined ? 0 : note.onset + note.length);
  return Math.min(next, sounding);
}
