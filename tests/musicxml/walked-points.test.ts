import fc from "fast-check";
import Fraction from "fraction.js";
import { expect, test } from "vitest";
import { ROUNDING } from "../../src/musicxml/timeline/note-length.js";
import { WalkedPoints } from "../../src/musicxml/timeline/walked-points.js";

const time = fc.integer({ min: 0, max: 400 }).map((ticks) => new Fraction(ticks, 96));
/** Points of a bar with triplets that a file rounds: read a hair earlier or later than its durations say. */
const points = fc.array(fc.tuple(time, fc.integer({ min: -1, max: 1 })), { minLength: 1, maxLength: 30 });

test("a backup leads to the nearest point, as one finds who looks at all of them", () =>
  fc.assert(
    fc.property(points, time, (all, target) => {
      const walked = new WalkedPoints();
      const known = [{ byDurations: new Fraction(0), at: new Fraction(0) }];
      for (const [byDurations, hair] of all) {
        const at = byDurations.add(new Fraction(hair, 1000));
        walked.add(byDurations, at);
        if (!known.some((point) => point.byDurations.equals(byDurations))) known.push({ byDurations, at });
      }
      const distances = known.map((point) => point.byDurations.sub(target).abs());
      const least = distances.reduce((a, b) => (a.lt(b) ? a : b));
      const isDrifted = known.some((point) => !point.at.equals(point.byDurations));
      const expected = known
        .filter((_, index) => distances[index]?.equals(least))
        .map(({ byDurations, at }) => {
          const miss = target.sub(byDurations);
          return isDrifted && miss.abs().lt(ROUNDING) ? at : at.add(miss);
        });
      expect(expected.map((one) => one.toFraction())).toContain(walked.at(target).toFraction());
    }),
  ));
