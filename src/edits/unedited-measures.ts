import { guitarDigest, unchangedMeasures } from "../arrangement/measure-digests.js";
import type { Instrument } from "../guitar/instrument.js";
import { measureIndexAt } from "../song/measure-place.js";
import type { Tune } from "../song/tune.js";
import type { CameBack } from "./came-back.js";
import { cameNotes } from "./guitar-part-notes.js";

/** Whether the measure at a tick has the guitar part that was written; false where that is not known. */
export function untouchedAt(
  { guitar, digests }: CameBack,
  tune: Tune,
  instrument: Instrument,
): (tick: number) => boolean {
  if (digests === undefined) return () => false;
  const notes = [...cameNotes(guitar, tune, instrument), ...cameNotes(guitar, tune, instrument, "grace")];
  const untouched = unchangedMeasures(digests.guitar, guitarDigest(tune, notes));
  return (tick) => untouched[measureIndexAt(tune, tick)] === true;
}
