import { ScoreError } from "../../diagnostics.js";
import { firstWhere } from "../../song/in-time-order.js";
import { measurePlace } from "../../song/measure-place.js";
import type { Tune } from "../../song/tune.js";
import { endOfVoiceNote, noteAt, type Voice } from "../../song/voices.js";
import type { TuneEvent } from "./tune-events.js";
import { type TexturesAsked, textureNameAt } from "./wishes-at.js";

/**
 * The moments, where the texture is that of the voices, at which a voice begins or ends a note while another
 * sounds: what is played has to follow. In time order.
 *
 * @throws ScoreError "no-voices" where that texture is asked for and there is one line only
 */
export function sungMoments(tune: Tune, wishes: TexturesAsked): readonly number[] {
  const { voices } = tune;
  const first = wishes.wishes.find((wish) => wish.kind === "texture" && wish.texture === "voices");
  if (wishes.texture !== "voices" && first === undefined) return [];
  if (voices === undefined) {
    const at = first?.kind === "texture" && wishes.texture !== "voices" ? first.from : undefined;
    throw noVoices(at === undefined ? {} : (measurePlace(tune, at) ?? {}));
  }
  return edgesOf(voices)
    .filter((onset) => textureNameAt({ onset }, wishes) === "voices")
    .filter((onset) => voices.some(({ notes }) => noteAt(notes, onset) !== undefined));
}

/** In a rest of the melody what is struck ends where a voice begins or ends a note, not with the chord symbol. */
export function endedWithVoices(
  events: readonly TuneEvent[],
  { voices = [] }: Tune,
  isSung: (event: TuneEvent) => boolean,
): readonly TuneEvent[] {
  const edges = edgesOf(voices);
  return events.map((event) => {
    if (event.note !== undefined || !isSung(event)) return event;
    const next = edges[firstWhere(edges, (at) => at > event.onset)] ?? event.end;
    return next < event.end ? { ...event, end: next } : event;
  });
}

/** Every tick at which a voice begins or ends a note, in time order. */
const edgesOf = (voices: readonly Voice[]): readonly number[] => [
  ...new Set(
    voices
      .flatMap(({ notes }) => notes.flatMap((note) => [note.onset, endOfVoiceNote(note)]))
      .sort((one, other) => one - other),
  ),
];

const noVoices = (place: ScoreError["finding"]["place"]): ScoreError =>
  new ScoreError({
    rule: "no-voices",
    place,
    found: "a score of one line",
    expected: "a score of several voices",
    message: "The texture of the voices needs other voices under the melody; the score has one line only.",
    hint: "Take the texture fluent, full or lean, which go by chord symbols.",
  });
