/** Two slips, or one in a word of up to four letters, still make the same word. */
const slipsIn = (word: string): number => (word.length <= 4 ? 1 : 2);

/** Of some words the one that a mistyped one was meant for; undefined where none is near. */
export function nearestWord(typed: string, words: readonly string[]): string | undefined {
  const ranked = words
    .map((word) => ({
      word,
      slips: word.startsWith(typed) && typed.length > 2 ? 1 : slipsBetween(typed, word),
    }))
    .filter(({ word, slips }) => slips <= slipsIn(word))
    .sort((one, other) => one.slips - other.slips);
  return ranked[0]?.word;
}

/** Letters put in, left out, changed or swapped with the next (Damerau and Levenshtein, adjacent swaps only). */
function slipsBetween(one: string, other: string): number {
  let before: number[] = [];
  let above = Array.from({ length: other.length + 1 }, (_, index) => index);
  for (let row = 1; row <= one.length; row += 1) {
    const here = [row];
    for (let column = 1; column <= other.length; column += 1) {
      const isSame = one[row - 1] === other[column - 1];
      const isSwapped =
        row > 1 && column > 1 && one[row - 1] === other[column - 2] && one[row - 2] === other[column - 1];
      here[column] = Math.min(
        (above[column] ?? 0) + 1,
        (here[column - 1] ?? 0) + 1,
        (above[column - 1] ?? 0) + (isSame ? 0 : 1),
        isSwapped ? (before[column - 2] ?? 0) + 1 : Number.POSITIVE_INFINITY,
      );
    }
    before = above;
    above = here;
  }
  return above[other.length] ?? 0;
}
