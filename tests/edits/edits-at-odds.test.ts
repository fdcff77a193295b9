import fc from "fast-check";
import { expect, test } from "vitest";
import type { ArrangingProblem } from "../../src/arranging/tune-problem.js";
import type { Edit } from "../../src/edits/edit-wishes.js";
import { editsAtOdds } from "../../src/edits/edits-at-odds.js";
import type { Link } from "../../src/search/choice-graph.js";
import { plainCheapestWay } from "../../src/search/reference-search.js";

/** A moment a column, a tick apart. */
const editAt = (column: number): Edit => ({
  wish: { kind: "grip", at: column, strings: [], wording: "" },
  written: [],
});

interface Problem {
  readonly columns: number;
  /** Columns of an edit: nothing but its own grip, choice 1, is possible there. */
  readonly edits: readonly Edit[];
  /** Whether one choice may follow another over a link. */
  readonly mayFollow: (link: Link, from: number, to: number) => boolean;
  readonly jumps?: readonly Link[];
}

const CHOICES = 3;

/** What the editing needs to know of an arranging problem. */
function problemOf({ columns, edits, mayFollow, jumps = [] }: Problem): ArrangingProblem {
  const edited = new Set(edits.map(({ wish }) => wish.at));
  const known = {
    events: Array.from({ length: columns }, (_, onset) => ({ onset })),
    sizes: Array.from({ length: columns }, () => CHOICES),
    links: [...Array.from({ length: columns - 1 }, (_, from) => ({ from, to: from + 1 })), ...jumps],
    choiceCost: (column: number, choice: number) =>
      edited.has(column) && choice !== 1 ? Number.POSITIVE_INFINITY : choice,
    stepCost: (link: Link) => (from: number, to: number) =>
      mayFollow(link, from, to) ? 0 : Number.POSITIVE_INFINITY,
  };
  return known as unknown as ArrangingProblem;
}

const blamed = (problem: Problem) =>
  [...editsAtOdds(problemOf(problem), problem.edits)].map(({ wish }) => wish.at).sort((a, b) => a - b);

const everyMoment = Array.from({ length: 12 }, (_, column) => editAt(column));

test("of twelve edits in a row only the one is at odds that does not follow from the one before", () => {
  const mayFollow = ({ to }: Link) => to !== 5;
  expect(blamed({ columns: 12, edits: everyMoment, mayFollow })).toEqual([5]);
});

test("edits that follow from one another are not at odds", () => {
  expect(blamed({ columns: 12, edits: everyMoment, mayFollow: () => true })).toEqual([]);
});

test("where a moment that is free follows from nothing, the edit before it is at odds", () => {
  const mayFollow = ({ to }: Link, from: number) => to !== 4 || from !== 1;
  expect(blamed({ columns: 8, edits: [editAt(1), editAt(3), editAt(6)], mayFollow })).toEqual([3]);
});

test("where a repeat finds no way back, the last edit before the jump is at odds", () => {
  const mayFollow = ({ from, to }: Link) => from < to;
  const jumps = [{ from: 6, to: 0 }];
  expect(blamed({ columns: 8, edits: [editAt(2), editAt(5), editAt(7)], mayFollow, jumps })).toEqual([5]);
});

test("without the edits at odds, found again and again, there is a way through whatever the others are", () => {
  const drawn = fc.record({
    columns: fc.integer({ min: 2, max: 7 }),
    edited: fc.array(fc.boolean(), { minLength: 7, maxLength: 7 }),
    // Nothing bars choice 0, the melody alone.
    barred: fc.array(fc.boolean(), { minLength: 7 * 9, maxLength: 7 * 9 }),
  });
  fc.assert(
    fc.property(drawn, ({ columns, edited, barred }) => {
      const mayFollow = ({ to }: Link, from: number, into: number) =>
        from === 0 || into === 0 || barred[to * 9 + from * 3 + into] !== true;
      let edits: readonly Edit[] = edited
        .slice(0, columns)
        .flatMap((isEdited, column) => (isEdited ? [editAt(column)] : []));
      for (;;) {
        const problem = { columns, edits, mayFollow };
        const atOdds = editsAtOdds(problemOf(problem), edits);
        const isWay = plainCheapestWay(problemOf(problem)) !== undefined;
        expect(atOdds.size === 0).toBe(isWay);
        if (atOdds.size === 0) return;
        edits = edits.filter((edit) => !atOdds.has(edit));
      }
    }),
  );
});
