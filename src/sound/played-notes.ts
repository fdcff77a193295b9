import type { Arrangement } from "../arrangement/arrangement.js";
import { secondsBetween } from "../song/playing-time.js";
import type { Tune } from "../song/tune.js";

/** A guitar score as it is heard: repeats and endings played out, times in seconds at the tempo asked for. */
export interface Performance {
  readonly notes: readonly PlayedNote[];
  /** Where the moments of the arrangement come up, in the order of playing. */
  readonly moments: readonly { readonly moment: number; readonly seconds: number }[];
  readonly measures: readonly PlayedMeasure[];
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

/** How long a grace note sounds before what it leads to. Common practice: quick, whatever the tempo. */
const GRACE_SECONDS = 0.09;
/** No tune jumps about this often. */
const MOST_STRETCHES = 1000;

/**
 * Every note in the order of playing. A jump is taken once, as the tune lists them, so a strain that is
 * marked to be played more than twice is played twice.
 */
export function performanceOf(tune: Tune, arrangement: Arrangement, tempo: number | undefined): Performance {
  const notes: PlayedNote[] = [];
  const moments: { moment: number; seconds: number }[] = [];
  const measures: PlayedMeasure[] = [];
  const sounding = soundingNotes(tune, arrangement);
  let begun = 0;
  for (const { from, to } of stretches(tune)) {
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
    begun = at(to);
  }
  notes.sort((one, other) => one.seconds - other.seconds || one.midi - other.midi);
  const { openStrings, capo } = arrangement.instrument;
  return { notes, moments, measures, seconds: begun, openStrings: openStrings.map((midi) => midi + capo) };
}

interface Sounding {
  readonly onset: number;
  readonly end: number;
  readonly midi: number;
  readonly string: number;
  readonly isMelody: boolean;
  readonly isGrace: boolean;
}

function soundingNotes(
  tune: Tune,
  { melody, supports, graces, transposition }: Arrangement,
): readonly Sounding[] {
  return [
    ...tune.melody.map(({ onset, length, midi }, index) => ({
      onset,
      end: onset + length,
      midi: midi + transposition.semitones,
      string: melody[index]?.string ?? 1,
      isMelody: true,
      isGrace: false,
    })),
    ...supports.map(({ onset, end, midi, string }) => ({
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

/** The stretches of the score between jumps, as they are played. */
function stretches(tune: Pick<Tune, "jumps" | "measures">): readonly { from: number; to: number }[] {
  const last = tune.measures.at(-1);
  const end = last === undefined ? 0 : last.start + last.length;
  const played: { from: number; to: number }[] = [];
  let from = 0;
  for (const jump of tune.jumps.slice(0, MOST_STRETCHES)) {
    if (jump.from <= from) continue;
    played.push({ from, to: jump.from });
    from = jump.to;
  }
  if (end > from) played.push({ from, to: end });
  return played;
}
