import { guitarDigest, unchangedMeasures } from "../arrangement/measure-digests.js";
import type { Instrument } from "../guitar/instrument.js";
import { measureIndexAt } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import { type ReturnedPart, returnedNotes } from "./guitar-part-notes.js";
import { isLone } from "./lone-notes.js";

/** Whether the measure at a tick has the guitar part that was written; false where that is not known. */
export function uneditedAt(
  { guitar, digests }: ReturnedPart,
  tune: Tune,
  instrument: Instrument,
): (tick: number) => boolean {
  if (digests === undefined) return () => false;
  const notes = [
    ...returnedNotes(guitar, tune, instrument),
    ...returnedNotes(guitar, tune, instrument, "grace"),
  ];
  const unedited = unchangedMeasures(digests.guitar, guitarDigest(tune, notes));
  const hasTwoStaves = guitar.layout === "parts" || guitar.layout === "joined";
  // A note deleted on one staff is still all there on the other, where its finger can be told.
  const lone = hasTwoStaves ? notes.filter(isLone).map(({ onset }) => measureIndexAt(tune, onset)) : [];
  const edited = new Set(lone);
  return (tick) => {
    const measure = measureIndexAt(tune, tick);
    return unedited[measure] === true && !edited.has(measure);
  };
}
