/** A source of whole numbers: the same seed gives the same row. */
export type Random = (below: number) => number;

/** Mulberry32, a generator of 32 bits that is known to be even enough for drawing lots. */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32) * below);
  };
}

/** Numbers that have broken readers: huge, negative, broken, with fractions, or none. */
const NUMBERS = [
  "0",
  "-1",
  "1",
  "7",
  "99",
  "-99",
  "1000000000",
  "99999999999999999999",
  "0.5",
  "3/2",
  "",
  "x",
  "1e9",
];

type Mutation = (xml: string, random: Random) => string;

/** Structure: what an exporter gets wrong. */
const MUTATIONS: readonly Mutation[] = [
  // A number inside an element becomes another.
  (xml, random) => replaceOne(xml, />(-?\d+(?:\.\d+)?)</g, random, () => `>${pick(NUMBERS, random)}<`),
  // So does one in an attribute.
  (xml, random) => replaceOne(xml, /="(-?\d+)"/g, random, () => `="${pick(NUMBERS, random)}"`),
  // An element without children goes, or comes twice.
  (xml, random) => replaceOne(xml, /<(\w[\w-]*)(?: [^<>]*)?>[^<>]*<\/\1>/g, random, () => ""),
  (xml, random) => replaceOne(xml, /<(\w[\w-]*)(?: [^<>]*)?>[^<>]*<\/\1>/g, random, (found) => found + found),
  // A whole note, symbol or measure goes, or comes twice.
  (xml, random) =>
    replaceOne(
      xml,
      /<(note|harmony|measure|attributes|direction|barline)\b[\s\S]*?<\/\1>/g,
      random,
      () => "",
    ),
  (xml, random) =>
    replaceOne(
      xml,
      /<(note|harmony|measure|attributes|direction|barline)\b[\s\S]*?<\/\1>/g,
      random,
      (found) => found + found,
    ),
  // A word becomes another of the same file.
  (xml, random) => {
    const words = [...xml.matchAll(/>([A-Za-z][\w#-]{0,20})</g)].map(([, word]) => word ?? "");
    return words.length === 0
      ? xml
      : replaceOne(xml, />[A-Za-z][\w#-]{0,20}</g, random, () => `>${pick(words, random)}<`);
  },
  // One sign is lost or becomes another.
  (xml, random) => {
    const at = random(xml.length);
    const sign = random(2) === 0 ? "" : String.fromCharCode(32 + random(95));
    return xml.slice(0, at) + sign + xml.slice(at + 1);
  },
];

/** A text with one to three things wrong in it. */
export function mutated(xml: string, random: Random): string {
  let changed = xml;
  for (let times = 1 + random(3); times > 0; times -= 1) changed = pick(MUTATIONS, random)(changed, random);
  return changed;
}

export const pick = <Item>(items: readonly Item[], random: Random): Item =>
  items[random(items.length)] as Item;

function replaceOne(xml: string, pattern: RegExp, random: Random, by: (found: string) => string): string {
  const places = [...xml.matchAll(pattern)];
  if (places.length === 0) return xml;
  const { 0: found, index } = pick(places, random);
  return xml.slice(0, index) + by(found) + xml.slice(index + found.length);
}
