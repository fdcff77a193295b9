import { mutated, pick, type Random } from "./mutations.js";

/** Values that nobody expects where they stand. */
const STRAYS: readonly unknown[] = [
  null,
  true,
  -1,
  0,
  1.5,
  1e9,
  1e308,
  "",
  "x",
  "__proto__",
  [],
  {},
  [[[]]],
  { constructor: 1 },
];

/** A text of JSON with something wrong in it: a value, a field, the order, or a sign of the text itself. */
export function mutatedJson(json: string, random: Random): string {
  if (random(6) === 0) return mutated(json, random);
  let value: unknown = JSON.parse(json);
  for (let times = 1 + random(3); times > 0; times -= 1) value = changed(value, random);
  return JSON.stringify(value);
}

/** One place of it changed; deeper ones more often. */
function changed(value: unknown, random: Random): unknown {
  if (typeof value !== "object" || value === null || random(8) === 0) return strayFor(value, random);
  const entries = Object.entries(value);
  if (entries.length === 0) return pick(STRAYS, random);
  const at = random(entries.length);
  const [name, inner] = entries[at] as readonly [string, unknown];
  const others = entries.filter((_, index) => index !== at);
  const ways: readonly (readonly (readonly [string, unknown])[])[] = [
    others,
    [...entries, [`${name}x`, inner]],
    [...entries, [String(entries.length), inner]],
  ];
  const whole =
    random(4) > 0
      ? entries.map((entry, index) => (index === at ? ([name, changed(inner, random)] as const) : entry))
      : pick(ways, random);
  return Array.isArray(value) ? whole.map(([, item]) => item) : Object.fromEntries(whole);
}

const strayFor = (value: unknown, random: Random): unknown =>
  typeof value === "number" && random(2) === 0 ? value + random(9) - 4 : pick(STRAYS, random);
