import type { Candidate } from "../candidate.js";

/** Whether two grips lie on different string sets: neither has all the strings of the other. */
export function changesStringSet(from: Candidate, to: Candidate): boolean {
  const [fewer, more] = from.strings.length <= to.strings.length ? [from, to] : [to, from];
  return !fewer.strings.every((note) => more.strings.some((other) => other.string === note.string));
}
