import type { Arrangement } from "../arrangement/arrangement.js";
import { melodyRingsUntil, struckSupports } from "../arrangement/played-notes.js";
import { lastUntil } from "../song/in-time-order.js";
import { secondsBetween, TEMPO_UNSAID } from "../song/playing-time.js";
import type { Stretch, TempoMark, Tune } from "../song/tune.js";

/** A guitar score as it is heard: repeats and endings played out, times in seconds at the tempo asked for. */
export interface Performance {
  readonly notes: readonly PlayedNote[];
  /** Where the moments of the arrangement come up, in the order of playing. */
  readonly moments: readonly { readonly moment: number; readonly seconds: number }[];
  readonly measures: readonly PlayedMeasure[];
  /** The tempo it begins in and each that it comes to, in the order of playing; never the same twice running. */
  readonly tempos: readonly PlayedTempo[];
  readonly seconds: number;
  /** Sounding MIDI number of each open string, the capo counted in; string 1 first. */
  readonly openStrings: readonly number[];
}

export interface PlayedNote {
  readonly seconds: number;
  readonly length: number;
  readonly midi: number;
  /** 1 is the highest. */
  readonly string: number;
  readonly isMelody: boolean;
}

/** A measure, as often as it is played; `index` from 0 in the score. */
export interface PlayedMeasure {
  readonly index: number;
  readonly seconds: number;
  readonly length: number;
}

/** A tempo from a time on. */
export interface PlayedTempo {
  readonly seconds: number;
  readonly quartersPerMinute: number;
}

/** How long a grace note sounds before what it leads to. Common practice: quick, whatever the tempo. */
const GRACE_SECONDS = 0.09;
/** No tune jumps about this often. */
const MOST_STRETCHES = 1000;

/** Every note in the order of playing: each strain as often as it is played, and no further than a Fine. */
export function performanceOf(tune: Tune, arrangement: Arrangement, tempo: number | undefined): Performance {
  const notes: PlayedNote[] = [];
  const moments: { moment: number; seconds: number }[] = [];
  const measures: PlayedMeasure[] = [];
  const tempos: PlayedTempo[] = [];
  const sounding = soundingNotes(tune, arrangement);
  let begun = 0;
  for (const stretch of stretches(tune)) {
    const { from, to } = stretch;
    const at = (tick: number) => begun + secondsBetween(tune, from, tick, tempo);
    const isHere = (tick: number) => tick >= from && tick < to;
    for (const note of sounding)
      if (isHere(note.onset)) {
        const seconds = at(note.onset) - (note.isGrace ? GRACE_SECONDS : 0);
        const length = note.isGrace ? GRACE_SECONDS : at(Math.min(note.end, to)) - at(note.onset);
        const { midi, string, isMelody } = note;
        notes.push({ seconds: Math.max(0, seconds), length, midi, string, isMelody });
      }
    arrangement.events.forEach(({ onset }, moment) => {
      if (isHere(onset)) moments.push({ moment, seconds: at(onset) });
    });
    for (const { index, start, length } of tune.measures)
      if (isHere(start))
        measures.push({ index, seconds: at(start), length: at(Math.min(start + length, to)) - at(start) });
    for (const { at: tick, quartersPerMinute } of temposIn(tune, stretch, tempo))
      if (tempos.at(-1)?.quartersPerMinute !== quartersPerMinute)
        tempos.push({ seconds: at(tick), quartersPerMinute });
    begun = at(to);
  }
  notes.sort((one, other) => one.seconds - other.seconds || one.midi - other.midi);
  const { openStrings, capo } = arrangement.instrument;
  return {
    notes,
    moments,
    measures,
    tempos,
    seconds: begun,
    openStrings: openStrings.map((midi) => midi + capo),
  };
}

interface Sounding {
  readonly onset: number;
  readonly end: number;
  readonly midi: number;
  readonly string: number;
  readonly isMelody: boolean;
  readonly isGrace: boolean;
}

function soundingNotes(tune: Tune, arrangement: Arrangement): readonly Sounding[] {
  const { melody, graces, transposition } = arrangement;
  const ringsUntil = melodyRingsUntil(arrangement);
  return [
    ...tune.melody.map(({ onset, length, midi }, index) => ({
      onset,
      end: ringsUntil.get(index) ?? onset + length,
      midi: midi + transposition.semitones,
      string: melody[index]?.string ?? 1,
      isMelody: true,
      isGrace: false,
    })),
    ...struckSupports(arrangement).map(({ onset, end, midi, string }) => ({
      onset,
      end,
      midi,
      string,
      isMelody: false,
      isGrace: false,
    })),
    ...[...graces.values()].map(({ onset, midi, string }) => ({
      onset,
      end: onset,
      midi,
      string,
      isMelody: true,
      isGrace: true,
    })),
  ];
}

/** The stretches of the score as they are played; a form that hardly ends is broken off. */
function stretches({ playing, measures }: Pick<Tune, "playing" | "measures">): readonly Stretch[] {
  const last = measures.at(-1);
  const whole = { from: 0, to: last === undefined ? 0 : last.start + last.length };
  return (playing ?? [whole]).slice(0, MOST_STRETCHES);
}

/** The tempo that a stretch begins in and those that it comes to, by tick. */
function temposIn(
  { tempos }: Pick<Tune, "tempos">,
  { from, to }: Stretch,
  tempo: number | undefined,
): readonly TempoMark[] {
  if (tempo !== undefined || tempos.length === 0)
    return [{ at: from, quartersPerMinute: tempo ?? TEMPO_UNSAID }];
  const begun = lastUntil(tempos, from, ({ at }) => at) ?? tempos[0];
  return [
    ...(begun === undefined ? [] : [{ ...begun, at: from }]),
    ...tempos.filter(({ at }) => at > from && at < to),
  ];
}
