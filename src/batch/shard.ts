/** One of so many shares of a batch, counted from 1. */
export interface Shard {
  readonly index: number;
  readonly count: number;
}

/** A Kubernetes Indexed Job with a limit for each index, and a Slurm array of usual size, take so many. */
const MOST_SHARDS = 1000;

/** "3/8" is the third of eight; undefined for anything else. */
export function shardFrom(text: string): Shard | undefined {
  const [, index, count] = /^(\d{1,4})\/(\d{1,4})$/.exec(text) ?? [];
  const shard = { index: Number(index), count: Number(count) };
  return shard.index >= 1 && shard.index <= shard.count && shard.count <= MOST_SHARDS ? shard : undefined;
}

/** Every count-th, so that folders of heavy scores are spread. The same on every machine that sees the same list. */
export const shareOf = <Item>(items: readonly Item[], { index, count }: Shard): readonly Item[] =>
  items.filter((_, at) => at % count === index - 1);
