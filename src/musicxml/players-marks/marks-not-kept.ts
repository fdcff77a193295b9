import type { Finding } from "../../diagnostics.js";
import { listed } from "../../listed.js";
import type { Mark } from "./marks-on-staff.js";

/** More are counted, not named. */
const MOST_NAMED = 12;

/** Says which marks of a guitar part that came back have no place in the new one; undefined where all have. */
export function marksNotKept(lost: readonly Mark[]): Finding | undefined {
  const [first] = lost;
  if (first === undefined) return undefined;
  const counts = new Map<string, number>();
  for (const { name, measure } of lost) {
    const said = `${name} in measure ${measure + 1}`;
    counts.set(said, (counts.get(said) ?? 0) + 1);
  }
  const named = [...counts].map(([name, count]) => (count === 1 ? name : `${name}, ${count} times`));
  const list = listed(named, MOST_NAMED, "; ");
  return {
    rule: "marks-not-kept",
    severity: "warning",
    place: { measure: first.measure + 1 },
    found: list,
    expected: "marks on notes that the guitar still plays",
    message: `The note that each of these marks stood on is there no more, and they are lost: ${list}.`,
    hint: "Add them where they belong now.",
  };
}
