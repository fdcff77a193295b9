import type { WishedString } from "./wishes.js";

/** "string 4 fret 2, held string 3 fret 0": low to high, the way a grip is named in a finding. */
export const gripText = (strings: readonly WishedString[]): string =>
  strings.length === 0
    ? "nothing"
    : strings
        .toSorted((a, b) => b.string - a.string)
        .map((one) => `${one.isHeld ? "held " : ""}${placeText(one)}${fingerText(one)}`)
        .join(", ");

export const placeText = ({ string, fret }: { readonly string: number; readonly fret: number }): string =>
  fret === 0 ? `open string ${string}` : `string ${string} fret ${fret}`;

const fingerText = ({ fret, finger }: WishedString): string =>
  fret === 0 || finger === undefined ? "" : ` finger ${finger}`;
