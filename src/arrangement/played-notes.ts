import type { Finger } from "../guitar/grip.js";
import type { Tune } from "../song/tune.js";
import type { Arrangement, SupportNote } from "./arrangement.js";

/** One attack of an arrangement, melody or support. Ticks of the tune. */
export interface PlayedNote {
  readonly onset: number;
  readonly end: number;
  readonly midi: number;
  readonly string: number;
  readonly fret: number;
  readonly finger: Finger;
  readonly isMelody: boolean;
}

/** The supporting notes that are struck as such: not those that the melody left ringing. */
export const struckSupports = ({ supports }: Pick<Arrangement, "supports">): readonly SupportNote[] =>
  supports.filter(({ onset, end, leftByMelody }) => end > onset && leftByMelody === undefined);

/** When each melody note that rings on under the next ones is let go, by its index. */
export const melodyRingsUntil = ({ supports }: Pick<Arrangement, "supports">): ReadonlyMap<number, number> =>
  new Map(
    supports.flatMap(({ leftByMelody, end }) =>
      leftByMelody === undefined ? [] : [[leftByMelody, end] as const],
    ),
  );

/** Every attack of an arrangement, at one time from the lowest up. `tune` lies where it is played. */
export function playedNotes(tune: Tune, arrangement: Arrangement): readonly PlayedNote[] {
  const melody = tune.melody.flatMap((note, index): readonly PlayedNote[] => {
    const place = arrangement.melody[index];
    const { onset, length, midi } = note;
    if (place === undefined) return [];
    const { string, fret, finger } = place;
    return [{ onset, end: onset + length, midi, string, fret, finger, isMelody: true }];
  });
  const supports = struckSupports(arrangement).map(({ onset, end, midi, string, fret, finger }) => ({
    onset,
    end,
    midi,
    string,
    fret,
    finger,
    isMelody: false,
  }));
  return [...melody, ...supports].sort((a, b) => a.onset - b.onset || a.midi - b.midi);
}

/** The grace notes of an arrangement, which take no time of their own. */
export const playedGraces = ({ graces }: Arrangement): readonly PlayedNote[] =>
  [...graces.values()].map((grace) => ({ ...grace, end: grace.onset, isMelody: false }));

/** Things that begin at a time, by that time. */
export function byOnset<Note extends { readonly onset: number }>(
  notes: readonly Note[],
): ReadonlyMap<number, readonly Note[]> {
  const groups = new Map<number, Note[]>();
  for (const note of notes) {
    const group = groups.get(note.onset);
    if (group === undefined) groups.set(note.onset, [note]);
    else group.push(note);
  }
  return groups;
}
