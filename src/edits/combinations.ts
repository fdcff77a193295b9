/** Every combination of one of each; none, and nothing gone through, where one of them has no way at all. */
export function* combinations<Item>(ways: readonly (readonly Item[])[]): Generator<readonly Item[]> {
  if (ways.some(({ length }) => length === 0)) return;
  yield* combinationsFrom(ways, []);
}

function* combinationsFrom<Item>(
  ways: readonly (readonly Item[])[],
  chosen: readonly Item[],
): Generator<readonly Item[]> {
  const here = ways[chosen.length];
  if (here === undefined) {
    yield chosen;
    return;
  }
  for (const way of here) yield* combinationsFrom(ways, [...chosen, way]);
}
