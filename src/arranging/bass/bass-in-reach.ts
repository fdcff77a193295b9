import { type Instrument, midiAt, stringCount } from "../../guitar/instrument.js";
import type { Tune } from "../../song/tune.js";
import { soundingAt } from "../../song/voices.js";
import { type BassKind, bassOnsets } from "./bass-line.js";
import { withBass } from "./with-bass.js";

/** Notes of the bass under a tune, and how many of them the strings have not at the pitch they are meant at. */
export interface BassInReach {
  readonly notes: number;
  /** Below the lowest string; of a bass put under the tune, where no bass string has one under the melody. */
  readonly outOfReach: number;
}

/**
 * What of a bass lies on the guitar: of the one that is asked for, or, without, of the lowest of the tune's own
 * voices. The tune lies where it will be played.
 */
export function bassInReach(tune: Tune, kind: BassKind, instrument: Instrument): BassInReach {
  if (kind !== "none") {
    const notes = bassOnsets(tune, kind).length;
    const played = withBass(tune, kind, instrument).voices?.at(-1)?.notes.length ?? 0;
    return { notes, outOfReach: notes - played };
  }
  const voices = tune.voices ?? [];
  const lowest = midiAt(instrument, stringCount(instrument), instrument.hasOpenStrings ? 0 : 1);
  const bass = voices
    .flatMap(({ notes }) => notes)
    .filter((note) => !note.isMelody && soundingAt(voices, note.onset)[0]?.note === note);
  return { notes: bass.length, outOfReach: bass.filter(({ midi }) => midi < lowest).length };
}
