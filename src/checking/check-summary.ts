import type { Finding, Severity } from "../diagnostics.js";
import type { GuitarLayout } from "../guitar/guitar-score.js";
import { fretDistanceMm } from "../guitar/hand-reach.js";
import { seventhGrips } from "./guide-tones-missing.js";
import { type JudgedScore, placeAt } from "./judged-score.js";
import { isStopped, type Moment } from "./moments.js";
import { speedOf } from "./move-too-fast.js";

/** What a score is like, in figures. */
export interface CheckSummary {
  readonly layout: GuitarLayout;
  /** Sounding MIDI numbers, string 1 first. */
  readonly openStrings: readonly number[];
  readonly capo: number;
  readonly attacks: number;
  /** Moments at which two strings or more are struck together. */
  readonly grips: number;
  /** Absent where no two strings are stopped at different frets. */
  readonly widestReach?: CheckedMoment & { readonly reachMm: number };
  /** Absent where the hand never moves. */
  readonly fastestMove?: {
    readonly from: CheckedMoment;
    readonly to: CheckedMoment;
    readonly moveMm: number;
    readonly secondsAvailable: number;
    readonly mmPerSecond: number;
  };
  /** Grips under chords of more than a triad, and how many of them hold every guide tone. */
  readonly guideTones: { readonly grips: number; readonly complete: number };
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
}

export interface CheckedMoment {
  readonly measure: number;
  readonly measureLabel?: string;
  readonly beat: number;
}

export function checkSummary(judged: JudgedScore, findings: readonly Finding[]): CheckSummary {
  const { score, instrument, moments } = judged;
  const sevenths = seventhGrips(judged);
  const count = (severity: Severity) => findings.filter((finding) => finding.severity === severity).length;
  return {
    layout: score.layout,
    openStrings: instrument.openStrings,
    capo: instrument.capo,
    attacks: score.notes.filter(({ kind }) => kind === "note").length,
    grips: moments.filter(({ struck }) => new Set(struck.map(({ midi }) => midi)).size > 1).length,
    ...widestReach(judged),
    ...fastestMove(judged),
    guideTones: {
      grips: sevenths.length,
      complete: sevenths.filter(({ lacking }) => lacking.length === 0).length,
    },
    errors: count("error"),
    warnings: count("warning"),
    notes: count("note"),
  };
}

function widestReach(judged: JudgedScore): Pick<CheckSummary, "widestReach"> {
  const reach = ({ held }: Moment): number => {
    const frets = held.filter(isStopped).map(({ fret }) => fret);
    return frets.length < 2 ? 0 : fretDistanceMm(judged.instrument, Math.min(...frets), Math.max(...frets));
  };
  const widest = greatest(judged.moments, reach);
  if (widest === undefined || reach(widest) === 0) return {};
  return { widestReach: { ...momentIn(judged, widest), reachMm: reach(widest) } };
}

function fastestMove(judged: JudgedScore): Pick<CheckSummary, "fastestMove"> {
  const fastest = greatest(judged.moves, speedOf);
  if (fastest === undefined || fastest.moveMm === 0) return {};
  const { moveMm, secondsAvailable } = fastest;
  return {
    fastestMove: {
      from: momentIn(judged, fastest.from),
      to: momentIn(judged, fastest.to),
      moveMm,
      secondsAvailable,
      mmPerSecond: speedOf(fastest),
    },
  };
}

function momentIn({ score }: JudgedScore, { onset, measure }: Moment): CheckedMoment {
  const { measure: ordinal = 1, measureLabel, beat = 1 } = placeAt(score, onset, measure);
  return { measure: ordinal, ...(measureLabel === undefined ? {} : { measureLabel }), beat };
}

/** The first of those with the greatest value. */
function greatest<Item>(items: readonly Item[], measure: (item: Item) => number): Item | undefined {
  let found: Item | undefined;
  for (const item of items) if (found === undefined || measure(item) > measure(found)) found = item;
  return found;
}
