import { type Candidate, isRingingOn, melodyFinger, melodyString, supportCount } from "../candidate.js";

/** The melody note rings on: same string, fret and finger. */
export function keepsMelody(from: Candidate, to: Candidate): boolean {
  const before = melodyString(from);
  const after = melodyString(to);
  const isSamePlace = before?.string === after?.string && before?.fret === after?.fret;
  return isSamePlace && melodyFinger(from) === melodyFinger(to);
}

/** Whether anything of a grip was struck at the event before. */
export const ringsFromBefore = (grip: Candidate): boolean =>
  grip.attack === "held" || grip.heldStrings !== undefined;

/** What rings on in the second grip is all that can of the first, whose supports have this name; of a player's own grip, part of it. */
export const ringsOn = (from: Candidate, name: string, to: Candidate): boolean =>
  to.heldFrom === undefined ? keepsSupports(from, to) : to.heldFrom.has(name);

/** Every supporting note of the second grip that rings on already sounds in the first, under the same finger. */
function keepsSupports(from: Candidate, to: Candidate): boolean {
  for (let index = 0; index < supportCount(to); index += 1) {
    const note = to.strings[index];
    if (!isRingingOn(to, note?.string)) continue;
    let isThere = false;
    for (let other = 0; other < supportCount(from) && !isThere; other += 1) {
      const earlier = from.strings[other];
      isThere =
        earlier?.string === note?.string &&
        earlier?.fret === note?.fret &&
        from.fingers[other] === to.fingers[index];
    }
    if (!isThere) return false;
  }
  return true;
}
