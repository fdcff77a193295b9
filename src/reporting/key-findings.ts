import type { Finding } from "../diagnostics.js";
import { pitchText } from "../song/pitch.js";
import type { Tune } from "../song/tune.js";

/** The melody lies on its strings in no key: an arrangement would have to use more of the neck. */
export function noKeyFits(tune: Tune): Finding {
  const byPitch = tune.melody.toSorted((one, other) => one.midi - other.midi);
  const [low, high] = [byPitch[0], byPitch.at(-1)];
  const found =
    low === undefined || high === undefined
      ? "no notes"
      : `${pitchText(low.pitch)} to ${pitchText(high.pitch)}`;
  return {
    rule: "no-key-fits",
    severity: "warning",
    place: {},
    found,
    expected: "a melody within reach of its strings",
    message: `The melody runs from ${found} and does not lie on its strings in any key.`,
    hint: "Allow more strings or more frets.",
  };
}
