import type { VoiceLeftOut } from "../arrangement/arrangement.js";
import { mod12 } from "../song/pitch.js";
import { soundingAt } from "../song/voices.js";
import type { Candidate } from "./grips/candidate.js";
import type { ArrangingProblem } from "./tune-problem.js";

/**
 * What voices sing at an event of an ensemble, or of a bass under the tune, and the grip chosen there has not, the
 * lowest first. Voices in unison are one; a voice in another octave is there.
 */
export function voicesLeftOut(
  { voices, events, textures }: ArrangingProblem,
  index: number,
  { midis, degrees }: Pick<Candidate, "midis" | "degrees">,
): readonly VoiceLeftOut[] {
  const onset = events[index]?.onset;
  if (onset === undefined || textures[index] !== "voices") return [];
  const sounding = soundingAt(voices, onset);
  const melody = sounding.filter(({ note }) => note.isMelody).map(({ note }) => note.midi);
  const classes = new Set(midis.map(mod12));
  const free = midis.slice(0, degrees.length);
  const take = (isTheOne: (midi: number) => boolean): boolean => {
    const place = free.findIndex(isTheOne);
    if (place >= 0) free.splice(place, 1);
    return place >= 0;
  };
  const under = sounding.filter(
    ({ note }, place) =>
      !note.isMelody &&
      !melody.includes(note.midi) &&
      sounding.findIndex((other) => other.note.midi === note.midi) === place,
  );
  const elsewhere = under.filter(({ note }) => !take((midi) => midi === note.midi));
  return elsewhere
    .filter(({ note }) => !take((midi) => mod12(midi - note.midi) === 0))
    .map(({ voice, note }) => ({
      voice: voices[voice]?.name ?? "",
      pitch: note.pitch,
      isToneThere: classes.has(mod12(note.midi)),
    }));
}
