import type { ArrangedEvent, Arrangement } from "../../arrangement/arrangement.js";
import { byOnset } from "../../arrangement/played-notes.js";
import { type PitchName, transposeName } from "../../song/pitch.js";
import type { Tune } from "../../song/tune.js";
import {
  attributeOf,
  childNamed,
  childText,
  element,
  elementsOf,
  withAttribute,
  type XmlElement,
} from "../../xml/xml-tree.js";
import type { LeadSheet, Timed } from "../lead-sheet/lead-sheet.js";
import { numberIn } from "../numbers/read-number.js";
import { frameElement } from "./frame-element.js";
import { harmonyElement, harmonyFromSymbol } from "./harmony-element.js";
import { keyShownAt, movedKeys } from "./key-and-time.js";
import { numeralForGuitar } from "./moved-numeral.js";
import { intervalOfNames, intervalToGuitar, movedStep } from "./moved-step.js";

/** The chord symbols of the guitar part by time, with the diagram of the grip struck there where asked. */
export function chordSymbols(
  sheet: LeadSheet,
  arrangement: Arrangement,
  hasDiagrams: boolean,
  isAlone: boolean,
): readonly Timed[] {
  const symbols = areChordsWorkedOut(sheet)
    ? fromTune(sheet.tune, arrangement)
    : fromHarmonies(sheet, arrangement, isAlone);
  if (!hasDiagrams) return symbols;
  const struck = byOnset(
    arrangement.events.filter(({ attack }) => attack === "struck" || attack === "under"),
  );
  return symbols.map((symbol) => withDiagram(symbol, struck.get(symbol.at)?.[0], arrangement));
}

/** Whether the chords were worked out from what voices sing: written nowhere in the score, and there all the same. */
export const areChordsWorkedOut = ({ tune, source }: LeadSheet): boolean =>
  tune.chords.some(({ symbol }) => symbol !== undefined) &&
  source.measures.every(({ harmonies }) => harmonies.length === 0);

const fromTune = ({ chords }: Tune, { transposition }: Arrangement): readonly Timed[] =>
  chords.map(({ start, symbol }) => ({
    at: start,
    element: harmonyFromSymbol(symbol, (name) => transposeName(name, transposition.interval)),
  }));

function fromHarmonies(
  sheet: LeadSheet,
  { transposition: { interval } }: Arrangement,
  isAlone: boolean,
): readonly Timed[] {
  const { tune, source } = sheet;
  const harmonies = source.measures.flatMap((measure) => measure.harmonies);
  const spanAt = new Map(tune.chords.map((span) => [span.start, span]));
  const keys = movedKeys(sheet, interval);
  const moved = harmonies.map((harmony) => {
    const { at, element: written, chord, transposition } = harmony;
    // Of several at one time the span is that of the one that is played.
    const symbol = chord === undefined ? undefined : spanAt.get(at)?.symbol;
    const movedBy = (tone: "root" | "bass") =>
      intervalOf(tone, written, symbol?.[tone], interval) ?? intervalToGuitar(transposition, interval);
    const element = harmonyElement(
      written,
      { root: movedBy("root"), bass: movedBy("bass") },
      (numeral) => numeralForGuitar(numeral, harmony, keyShownAt(keys, sheet, at), interval),
      symbol,
    );
    return { at, element, isPlayed: chord !== undefined };
  });
  return [...byTime(moved).values()].flatMap((here) =>
    isAlone ? overOneAnother(here) : (here.find(({ isPlayed }) => isPlayed) ?? here[0] ?? []),
  );
}

function byTime<Symbol extends Timed>(symbols: readonly Symbol[]): ReadonlyMap<number, readonly Symbol[]> {
  const groups = new Map<number, Symbol[]>();
  for (const symbol of symbols) groups.set(symbol.at, [...(groups.get(symbol.at) ?? []), symbol]);
  return groups;
}

/** Height of a chord symbol with some air over it, in tenths of a staff space. */
const SYMBOL_HEIGHT = 25;

/**
 * Symbols at one time, each above the one before it: an alternate stands over the chord it may replace.
 * Beside a lead sheet only what is played is shown over the guitar.
 */
const overOneAnother = (symbols: readonly (Timed & { readonly isPlayed: boolean })[]): readonly Timed[] =>
  symbols.map(({ at, element: symbol, isPlayed }, index) => {
    const isBeside = !isPlayed && symbols.some((other) => other.isPlayed);
    const told = isBeside ? asAlternate(symbol) : symbol;
    return { at, element: index === 0 ? told : withAttribute(told, "relative-y", index * SYMBOL_HEIGHT) };
  });

/** Two symbols that are alike would be read as two chords of one beat where there is more room for them than before. */
const asAlternate = (symbol: XmlElement): XmlElement =>
  (attributeOf(symbol, "type") ?? "explicit") === "explicit"
    ? withAttribute(symbol, "type", "alternate")
    : symbol;

/**
 * From root or bass as written to how the guitar sounds it: the lead part's transposition and ours in one. Each by
 * itself, since a name with too many accidentals gives way to its neighbour.
 */
function intervalOf(
  name: "root" | "bass",
  symbol: XmlElement,
  read: PitchName | undefined,
  interval: string,
): string | undefined {
  const tone = childNamed(symbol, name);
  if (tone === undefined || read === undefined) return undefined;
  const written = movedStep(childText(tone, `${name}-step`) ?? "", numberIn(tone, `${name}-alter`), "1P");
  return written && intervalOfNames(written, transposeName(read, interval));
}

/** `event` is what is struck with the symbol, if anything. */
function withDiagram(
  { at, element: symbol }: Timed,
  event: ArrangedEvent | undefined,
  arrangement: Arrangement,
): Timed {
  if (event === undefined) return { at, element: symbol };
  const melody = arrangement.melody[event.melodyNote ?? -1];
  const supports = event.supports.flatMap((index) => arrangement.supports[index] ?? []);
  const notes = melody === undefined ? supports : [melody, ...supports];
  const frame = frameElement(notes, event.barres, arrangement.instrument.openStrings.length);
  const children = elementsOf(symbol);
  const editorial = children.findIndex(({ name }) => name === "footnote" || name === "level");
  const before = editorial < 0 ? children.length : editorial;
  const attributes = withAttribute(symbol, "print-frame", "yes").attributes;
  return {
    at,
    element: {
      ...element("harmony"),
      attributes,
      children: [...children.slice(0, before), frame, ...children.slice(before)],
    },
  };
}
