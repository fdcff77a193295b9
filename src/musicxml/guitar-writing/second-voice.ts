import type { Arrangement, SupportNote } from "../../arrangement/arrangement.js";
import { struckSupports } from "../../arrangement/played-notes.js";
import { countBefore } from "../../song/in-time-order.js";
import type { Measure, Tune } from "../../song/tune.js";
import { splitDuration } from "./split-duration.js";
import { itemOf, type PartNote, type TupletGroup, type VoiceItem } from "./voice-item.js";

/**
 * Supporting notes that voice 1 does not hold: of a bass under the tune, of another span than a melody note, or
 * lower than one of these that sounds with it, since what lies lowest belongs to the lower voice.
 */
export function supportsOfTheirOwn(tune: Tune, arrangement: Arrangement): readonly SupportNote[] {
  const spans = new Set(tune.melody.map((note) => `${note.onset}-${note.onset + note.length}`));
  const isOwn = ({ onset, end, isBassLine }: SupportNote) =>
    isBassLine === true || !spans.has(`${onset}-${end}`);
  const heard = struckSupports(arrangement);
  const own = heard.filter(isOwn).sort((one, other) => one.onset - other.onset);
  const longest = own.reduce((most, { onset, end }) => Math.max(most, end - onset), 0);
  return heard.filter((support) => isOwn(support) || isUnderOneOf(support));

  function isUnderOneOf({ onset, end, midi }: SupportNote): boolean {
    let before = countBefore(own, end, (note) => note.onset);
    for (; before > 0; before -= 1) {
      const other = own[before - 1];
      if (other === undefined || other.onset + longest <= onset) return false;
      if (other.end > onset && other.midi > midi) return true;
    }
    return false;
  }
}

/**
 * Voice 2 of a measure: chords struck under a held melody note, and supporting notes that ring on under
 * a moving melody. Everything in it is cut wherever any of its notes begins or ends, so that the voice
 * is one row of chords; what sounds on is tied. Empty where the measure needs no second voice.
 *
 * Where a note begins or ends inside a tuplet of the melody, the voice is written in that tuplet too,
 * and filled up with hidden rests: half a tuplet is not readable.
 *
 * @param here the supporting notes that sound in the measure
 */
export function secondVoice(
  tune: Tune,
  measure: Measure,
  here: readonly SupportNote[],
  tuplets: readonly TupletGroup[],
): readonly VoiceItem[] {
  const end = measure.start + measure.length;
  if (here.length === 0) return [];
  const edges = here.flatMap((support) => [support.onset, support.end]);
  const shared = tuplets.filter(({ start, end: stop }) => edges.some((edge) => edge > start && edge < stop));
  const cuts = [measure.start, end, ...edges, ...shared.flatMap(({ start, end: stop }) => [start, stop])]
    .filter((cut) => cut >= measure.start && cut <= end)
    .sort((one, other) => one - other);
  const moments = [...new Set(cuts)];
  return moments.slice(0, -1).flatMap((at, index) => {
    const until = moments[index + 1] ?? end;
    const tuplet = shared.find(({ start, end: stop }) => start <= at && until <= stop);
    return stretch(tune, measure, here, at, until, tuplet);
  });
}

function stretch(
  tune: Tune,
  measure: Measure,
  supports: readonly SupportNote[],
  at: number,
  until: number,
  tuplet: TupletGroup | undefined,
): readonly VoiceItem[] {
  const sounding = supports
    .filter((support) => support.onset <= at && support.end >= until)
    .sort((one, other) => other.midi - one.midi);
  if (sounding.length === 0 && tuplet === undefined && supports.some(({ isBassLine }) => isBassLine === true))
    return splitDuration(at, until - at, measure, tune.ticksPerQuarter).map((piece) =>
      itemOf({ kind: "rest", ...piece }),
    );
  if (sounding.length === 0 && tuplet === undefined)
    return [itemOf({ kind: "gap", at, length: until - at, value: undefined })];
  return splitDuration(at, until - at, measure, tune.ticksPerQuarter, tuplet?.ratio).map((piece) => {
    const stop = piece.at + piece.length;
    const marks = [
      ...(tuplet?.start === piece.at ? (["start"] as const) : []),
      ...(tuplet?.end === stop ? (["stop"] as const) : []),
    ];
    const notes = sounding.map(
      (support): PartNote => ({
        pitch: support.pitch,
        placement: support,
        tiedFrom: piece.at > support.onset,
        tiedOn: stop < support.end,
      }),
    );
    const kind = notes.length > 0 ? "notes" : "hidden-rest";
    return itemOf({ kind, ...piece, notes, tuplet: marks });
  });
}
