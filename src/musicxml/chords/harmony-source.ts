import type { Findings } from "../../diagnostics.js";
import type { ArrangeOptions } from "../../options/options.js";
import type { WalkedItem, WalkedPart } from "../timeline/walked-part.js";
import type { ChordText, UnreadText } from "./chord-words.js";
import { namesChord } from "./read-harmony.js";
import { type TypedItem, tellTypedChords, typedChords } from "./typed-chords.js";

/** The chords of a score, as they stand in one of its parts. */
export interface HarmonySource {
  readonly part: WalkedPart;
  /** `<harmony>` elements by time, those that say what a text says among them. */
  readonly items: readonly WalkedItem[];
  readonly typed: readonly TypedItem[];
  /** Texts that were read as chords, and those that may be some. */
  readonly texts: readonly ChordText[];
  readonly unread: readonly UnreadText[];
}

/** Where the chords are: in the melody's part, else in another; as chord symbols, else typed as text. */
export function harmonySource(
  parts: readonly WalkedPart[],
  part: WalkedPart,
  own: ReadonlySet<string>,
  chordNames: ArrangeOptions["chordNames"] | undefined,
  findings: Findings,
): HarmonySource {
  const inOrder = [part, ...parts.filter((other) => other !== part && !own.has(other.id))];
  const symbolsOf = ({ harmonies }: WalkedPart) => harmonies.filter(({ element }) => namesChord(element));
  const withSymbols = inOrder.find((candidate) => symbolsOf(candidate).length > 0);
  const unread: UnreadText[] = [];
  for (const candidate of withSymbols === undefined ? inOrder : [withSymbols]) {
    const typed = typedChords(candidate, symbolsOf(candidate), chordNames ?? "auto");
    if (withSymbols === undefined && typed.items.length === 0) {
      unread.push(...typed.unread);
      continue;
    }
    tellTypedChords(typed, candidate, findings);
    const items = [...candidate.harmonies, ...typed.items].sort((one, other) => one.at.compare(other.at));
    return { part: candidate, items, typed: typed.items, texts: typed.texts, unread: typed.unread };
  }
  return notWritten(part, unread);
}

/** No chords that count: the harmony is worked out from the voices. */
export const notWritten = (part: WalkedPart, unread: readonly UnreadText[]): HarmonySource => ({
  part,
  items: [],
  typed: [],
  texts: [],
  unread,
});
