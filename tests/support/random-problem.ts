import fc from "fast-check";
import type { Link, PathProblem } from "../../src/search/choice-graph.js";

const costs = fc.oneof(
  { weight: 9, arbitrary: fc.integer({ min: 0, max: 40 }) },
  { weight: 1, arbitrary: fc.constant(Number.POSITIVE_INFINITY) },
);

/** Up to six columns of up to four choices, with jumps from anywhere to anywhere; some choices and steps are impossible. */
export const randomProblems: fc.Arbitrary<PathProblem> = fc
  .array(fc.integer({ min: 1, max: 4 }), { minLength: 1, maxLength: 6 })
  .chain((sizes) => {
    const last = sizes.length - 1;
    const jump = fc.record({
      from: fc.integer({ min: 0, max: last }),
      to: fc.integer({ min: 0, max: last }),
    });
    return fc.record({
      sizes: fc.constant(sizes),
      chain: fc.array(fc.boolean(), { minLength: last, maxLength: last }),
      jumps: fc.array(jump, { maxLength: 3 }),
      own: fc.array(costs, { minLength: 24, maxLength: 24 }),
      pair: fc.array(costs, { minLength: 97, maxLength: 97 }),
    });
  })
  .map(({ sizes, chain, jumps, own, pair }) => {
    const links: Link[] = chain.flatMap((isPlayed, from) => (isPlayed ? [{ from, to: from + 1 }] : []));
    for (const jump of jumps) {
      if (!links.some((link) => link.from === jump.from && link.to === jump.to)) links.push(jump);
    }
    return {
      sizes,
      links,
      choiceCost: (column, choice) => own[column * 4 + choice] ?? 0,
      stepCost: (link) => (from, to) => pair[(link.from * 31 + link.to * 17 + from * 5 + to) % 97] ?? 0,
    };
  });
