import { mod12 } from "../../song/pitch.js";
import type { SungLine, SungLines } from "../grips/candidate.js";
import type { SungPitch } from "./sung-placements.js";

/**
 * Which voice each supporting note of a grip is of that came from elsewhere, so that nothing but the pitches says: each
 * voice is taken once. A note is of the voice that sings its very pitch, else of one that sings it in another octave;
 * the lowest is of a bass put under the tune even where another voice sings its pitch, since a bass that is moved by an
 * octave may come to lie there, and is never left out for another voice. undefined where all are nobody's.
 */
export function linesOfGrip(supports: readonly number[], sung: readonly SungPitch[]): SungLines | undefined {
  const owners = new Map<number, SungPitch>();
  const free = new Set(sung);
  const give = (isOwn: (midi: number, one: SungPitch) => boolean): void => {
    for (const [index, midi] of lowestFirst) {
      const own = owners.has(index) ? undefined : [...free].find((one) => isOwn(midi, one));
      if (own === undefined) continue;
      owners.set(index, own);
      free.delete(own);
    }
  };
  const lowestFirst = [...supports.entries()].sort(([, one], [, other]) => one - other);
  const lowest = lowestFirst[0]?.[1];
  give((midi, one) => one.isBassLine && midi === one.midi);
  give((midi, one) => one.isBassLine && midi === lowest && isSameName(midi, one));
  give((midi, one) => midi === one.midi);
  give(isSameName);
  return owners.size === 0 ? undefined : supports.map((midi, index) => lineOf(midi, owners.get(index)));
}

const isSameName = (midi: number, one: SungPitch): boolean => mod12(midi - one.midi) === 0;

function lineOf(midi: number, own: SungPitch | undefined): SungLine | undefined {
  if (own === undefined) return undefined;
  const { voice, pitch, isBassLine } = own;
  return { voice, octaves: (midi - own.midi) / 12, pitch, isBassLine };
}
