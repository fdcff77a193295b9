/**
 * Values worked out once for each key. A key is a list of texts and numbers, compared as they read, and
 * of objects, compared by identity.
 */
export function remembered<Value>(): (key: readonly unknown[], make: () => Value) => Value {
  const known = new Map<string, Value>();
  const numbers = new WeakMap<object, number>();
  let seen = 0;
  const nameOf = (part: unknown): unknown => {
    if (typeof part !== "object" || part === null) return part;
    const number = numbers.get(part) ?? ++seen;
    numbers.set(part, number);
    return { object: number };
  };
  return (key, make) => {
    const name = JSON.stringify(key.map(nameOf));
    const before = known.get(name);
    if (before !== undefined) return before;
    const value = make();
    known.set(name, value);
    return value;
  };
}
