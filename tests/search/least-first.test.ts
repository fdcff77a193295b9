import fc from "fast-check";
import { expect, test } from "vitest";
import { LeastFirst } from "../../src/search/least-first.js";

test("the least figure is taken first, of equal ones the lowest number, whatever was changed meanwhile", () => {
  const puts = fc.array(fc.tuple(fc.nat({ max: 9 }), fc.nat({ max: 5 })), { maxLength: 30 });
  fc.assert(
    fc.property(puts, puts, fc.nat({ max: 5 }), (first, second, taken) => {
      const waiting = new LeastFirst(10);
      const plain = new Map<number, number>();
      const put = ([one, figure]: [number, number]) => {
        waiting.put(one, figure);
        plain.set(one, figure);
      };
      const take = () => {
        const [least] = [...plain].sort(([one, a], [other, b]) => a - b || one - other)[0] ?? [];
        if (least !== undefined) plain.delete(least);
        expect(waiting.take()).toBe(least);
      };
      first.forEach(put);
      for (let count = 0; count < taken; count += 1) take();
      second.forEach(put);
      for (let count = 0; count <= 10; count += 1) take();
    }),
  );
});
