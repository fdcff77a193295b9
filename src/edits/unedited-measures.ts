import { guitarDigest, unchangedMeasures } from "../arrangement/measure-digests.js";
import type { Instrument } from "../guitar/instrument.js";
import { measureIndexAt } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { notesAndGraces, type ReturnedPart } from "./guitar-part-notes.js";
import { hasTwoStaves, isLone } from "./lone-notes.js";

/** Whether the measure at a tick has the guitar part that was written; false where that is not known. */
export function uneditedAt(
  { guitar, digests }: ReturnedPart,
  tune: Tune,
  instrument: Instrument,
): (tick: number) => boolean {
  if (digests === undefined) return () => false;
  const notes = notesAndGraces(guitar, tune, instrument);
  const unedited = unchangedMeasures(digests.guitar, guitarDigest(tune, notes));
  // A note deleted on one staff is still all there on the other, where its finger can be told.
  const lone = hasTwoStaves(guitar)
    ? notes.filter(isLone).map(({ onset }) => measureIndexAt(tune, onset))
    : [];
  const edited = new Set(lone);
  return (tick) => {
    const measure = measureIndexAt(tune, tick);
    return unedited[measure] === true && !edited.has(measure);
  };
}
