import { isSung } from "../lead-sheet/sung-line.js";
import { hasOwnMusic, type WalkedNote, type WalkedPart } from "../timeline/walked-part.js";

/**
 * The voices of a part, each with the notes it sings, in the order of the file. A voice goes from staff to
 * staff, unless two staves give the same number to two voices. Staves that copy another count where `withCopies`.
 */
export function linesOf(part: WalkedPart, withCopies = false): readonly (readonly WalkedNote[])[] {
  const sung = part.notes.filter((note) => isSung(note) && (withCopies || hasOwnMusic(part, note.staff)));
  return groupedBy(sung, ({ voice }) => voice).flatMap((notes) => {
    const byStaff = groupedBy(notes, ({ staff }) => staff);
    const areTwo = byStaff.some((one, index) =>
      byStaff.slice(index + 1).some((other) => overlap(one, other)),
    );
    return areTwo ? byStaff : [notes];
  });
}

/** Whether any note of one list sounds while a note of another does. */
export function overlap(some: readonly WalkedNote[], others: readonly WalkedNote[]): boolean {
  const inTime = [some, others]
    .flatMap((notes, list) => notes.map(({ at, length }) => ({ list, at, end: at.add(length) })))
    .sort((one, other) => one.at.compare(other.at));
  const ends = [inTime[0]?.at, inTime[0]?.at];
  return inTime.some(({ list, at, end }) => {
    const otherEnd = ends[1 - list];
    const ownEnd = ends[list];
    if (ownEnd?.lt(end)) ends[list] = end;
    return otherEnd?.gt(at) === true;
  });
}

/** Items with the same key together, in the order in which the keys are met. */
export function groupedBy<Item>(
  items: readonly Item[],
  keyOf: (item: Item) => string,
): readonly (readonly Item[])[] {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item)) ?? [];
    groups.set(keyOf(item), group);
    group.push(item);
  }
  return [...groups.values()];
}
