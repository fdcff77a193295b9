import { type Candidate, melodyString, supportCount } from "../candidate.js";

/**
 * Whether a melody note that is repeated over one chord is played elsewhere, or over another grip, than what
 * sounds already: such a note repeats the grip or lets it ring on.
 */
export function isRegripped(from: Candidate, to: Candidate): boolean {
  const before = melodyString(from);
  const after = melodyString(to);
  if (before === undefined || after === undefined) return false;
  if (before.string !== after.string || before.fret !== after.fret) return true;
  if (to.attack === "held" || supportCount(to) === 0) return false;
  if (from.attack !== "held" && supportCount(from) > 0 && supportCount(from) !== supportCount(to))
    return true;
  // What is left of a chord that rings is taken again with the rest of it.
  return !from.strings.every((note) =>
    to.strings.some((other) => other.string === note.string && other.fret === note.fret),
  );
}
