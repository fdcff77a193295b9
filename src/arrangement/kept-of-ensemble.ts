import { mod12 } from "../song/pitch.js";
import type { Tune } from "../song/tune.js";
import { endOfVoiceNote, soundingAt } from "../song/voices.js";
import type { Arrangement, SupportNote } from "./arrangement.js";

/** What of an ensemble an arrangement keeps. Ticks of the tune. */
export interface KeptOfEnsemble {
  /** Beats at which anything is sung and the guitar sounds. */
  readonly beats: number;
  /** Of these the ones without the ensemble's bass as the lowest pitch class, and with a pitch class lacking. */
  readonly withoutBass: readonly number[];
  readonly withoutTone: readonly number[];
  /** Supporting notes that sound, or ring on, while nobody sings their pitch class. */
  readonly foreign: readonly number[];
  /** Onsets of supporting notes under which a voice lies that is sung above them. */
  readonly crossings: readonly number[];
}

/** Compares an arrangement, beat by beat, with what the voices of the tune sing. The tune is the one it was made from, moved. */
export function keptOfEnsemble(tune: Tune, { supports }: Pick<Arrangement, "supports">): KeptOfEnsemble {
  const { voices = [] } = tune;
  const withoutBass: number[] = [];
  const withoutTone: number[] = [];
  const beats = beatsOf(tune).filter((tick) => {
    const sung = soundingAt(voices, tick).map(({ note }) => note.midi);
    const played = [
      ...supports.filter(({ onset, end }) => onset <= tick && tick < end).map(({ midi }) => midi),
      ...tune.melody
        .filter(({ onset, length }) => onset <= tick && tick < onset + length)
        .map(({ midi }) => midi),
    ];
    if (sung.length === 0) return false;
    const classes = new Set(played.map(mod12));
    if (played.length === 0 || mod12(Math.min(...played)) !== mod12(sung[0] ?? 0)) withoutBass.push(tick);
    if (!sung.every((midi) => classes.has(mod12(midi)))) withoutTone.push(tick);
    return true;
  });
  return {
    beats: beats.length,
    withoutBass,
    withoutTone,
    foreign: supports.filter((support) => isForeign(tune, support)).map(({ onset }) => onset),
    crossings: crossingsOf(tune, supports),
  };
}

/** Every beat of the score: a quarter, a half or an eighth by the lower number of the meter, three eighths in 6/8. */
function beatsOf({ measures, ticksPerQuarter }: Tune): readonly number[] {
  return measures.flatMap(({ start, length, meter }) => {
    const { beats = 4, beatType = 4 } = meter ?? {};
    const isCompound = beatType >= 8 && beats > 3 && beats % 3 === 0;
    const beat = Math.round((ticksPerQuarter * (isCompound ? 12 : 4)) / beatType);
    return Array.from({ length: Math.ceil(length / beat) }, (_, index) => start + index * beat);
  });
}

/** At some time while it sounds nobody sings its pitch class. */
function isForeign({ voices = [] }: Tune, { onset, end, midi }: SupportNote): boolean {
  let sungUntil = onset;
  const same = voices
    .flatMap(({ notes }) => notes)
    .filter((note) => mod12(note.midi - midi) === 0 && note.onset < end && endOfVoiceNote(note) > onset)
    .sort((one, other) => one.onset - other.onset);
  for (const note of same) {
    if (note.onset > sungUntil) return true;
    sungUntil = Math.max(sungUntil, endOfVoiceNote(note));
  }
  return sungUntil < end;
}

/** Two supporting notes struck together in an order in which nobody sings their pitch classes at that moment. */
function crossingsOf(tune: Tune, supports: readonly SupportNote[]): readonly number[] {
  const { voices = [] } = tune;
  const crossed: number[] = [];
  const byOnset = new Map<number, SupportNote[]>();
  for (const support of supports) {
    const together = byOnset.get(support.onset) ?? [];
    byOnset.set(support.onset, together);
    together.push(support);
  }
  for (const [onset, together] of byOnset) {
    const sung = soundingAt(voices, onset).filter(({ note }) => !note.isMelody);
    const places = together
      .toSorted((one, other) => one.midi - other.midi)
      .map(({ midi }) => sung.flatMap(({ note }, place) => (mod12(note.midi - midi) === 0 ? [place] : [])));
    let least = -1;
    const isInOrder = places.every((possible) => {
      const next = possible.find((place) => place > least);
      least = next ?? least;
      return next !== undefined;
    });
    if (!isInOrder) crossed.push(onset);
  }
  return crossed;
}
