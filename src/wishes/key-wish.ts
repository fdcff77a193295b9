import { pitchNameFrom } from "../options/instrument-from-options.js";
import type { ArrangeOptions } from "../options/options.js";
import type { PitchName } from "../song/pitch.js";

/** What was asked about the key. */
export type KeyWish =
  | { readonly kind: "keep" }
  | { readonly kind: "best" }
  | { readonly kind: "tonic"; readonly tonic: PitchName; readonly mode: "minor" | undefined };

/** "Eb" is the tonic E flat in the mode of the tune, "F#m" F sharp minor. */
export function keyWishFrom(options: Pick<ArrangeOptions, "key">): KeyWish {
  const { key } = options;
  if (key === "keep" || key === "best") return { kind: key };
  const isMinor = key.endsWith("m");
  return {
    kind: "tonic",
    tonic: pitchNameFrom(isMinor ? key.slice(0, -1) : key),
    mode: isMinor ? "minor" : undefined,
  };
}
