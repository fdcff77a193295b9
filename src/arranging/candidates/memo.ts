/** Values worked out once for each key; a key is a list of texts and numbers, and of objects, compared by identity. */
export type Remembered<Value> = (key: readonly unknown[], make: () => Value) => Value;

/**
 * Remembers values as they are asked for.
 *
 * @param most Values kept at once, which may change; beyond it the one not asked for longest is forgotten. Without it, all
 *   are kept.
 */
export function remembered<Value>(most = () => Number.POSITIVE_INFINITY): Remembered<Value> {
  const known = new Map<string, Value>();
  return (key, make) => {
    const name = nameOf(key);
    const before = known.get(name);
    const value = before ?? make();
    const room = most();
    if (before === undefined || room < Number.POSITIVE_INFINITY) {
      known.delete(name);
      known.set(name, value);
    }
    if (known.size > room) {
      for (const oldest of known.keys()) {
        known.delete(oldest);
        if (known.size <= room) break;
      }
    }
    return value;
  };
}

const numbers = new WeakMap<object, number>();
let seen = 0;

function nameOf(key: readonly unknown[]): string {
  let name = "";
  for (const part of key) {
    if (typeof part === "object" && part !== null) {
      let number = numbers.get(part);
      if (number === undefined) {
        seen += 1;
        number = seen;
        numbers.set(part, number);
      }
      name += `#${number}|`;
    } else name += `${part}|`;
  }
  return name;
}
