import type { Findings } from "../../diagnostics.js";
import { type PlacedHarmony, placeHarmonies } from "../chords/chord-spans.js";
import { keyAt, writtenKeys } from "../chords/keys.js";
import { namesChord } from "../chords/read-harmony.js";
import { typedChords } from "../chords/typed-chords.js";
import type { WalkedItem, WalkedPart } from "../timeline/walked-part.js";

/**
 * The chord symbols over a guitar part in the time of `home`: of the first part that has any, as symbols
 * or as text above the staff. Empty where no part does.
 */
export function guitarChords(
  parts: readonly WalkedPart[],
  home: WalkedPart,
  findings: Findings,
): readonly PlacedHarmony[] {
  const place = (part: WalkedPart, items: readonly WalkedItem[]) => {
    const keys = writtenKeys(part, "1", findings);
    return placeHarmonies(items, part, home, (at) => keyAt(keys, at), findings);
  };
  const withSymbols = parts.find(({ harmonies }) => harmonies.some(({ element }) => namesChord(element)));
  if (withSymbols !== undefined) return place(withSymbols, withSymbols.harmonies);
  for (const part of parts) {
    const { items } = typedChords(part, [], "auto");
    if (items.length > 0) return place(part, items);
  }
  return [];
}
