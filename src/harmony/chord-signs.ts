/** Signs and private-use glyphs (SMuFL 1.4: accidentals, chord symbols) and the letters they stand for. */
const SIGNS: readonly (readonly [RegExp, string])[] = [
  [/[\u266d\ue260\ued60]/gu, "b"],
  [/[\u266f\ue262\ued62\uff03]/gu, "#"],
  [/[\u{1d12b}\ue264\ued64]/gu, "bb"],
  [/[\u{1d12a}\ue263\ued63]/gu, "##"],
  [/[\u266e\ue261\ued61]/gu, ""],
  [/[\u25b3\u0394\u2206\u25b5\u25b2\u2206\ue873]/gu, "^"],
  [/[\u00f8\u00d8\u2300\u2205\ue871]/gu, "hdim"],
  [/[\u00b0\u00ba\u02da\u2218\u25cb\u25e6\ue870]/gu, "dim"],
  [/[\u2010-\u2015\u2212\u02d7\ue874]/gu, "-"],
  [/[\ufe62\uff0b\ue872]/gu, "+"],
  [/[\ue875\ue878\ue87a]/gu, "("],
  [/[\ue876\ue879]/gu, ")"],
  [/[\ue87b\ue87c\u2044\u2215\uff0f]/gu, "/"],
  [/\u200b|\ufeff/gu, ""],
];

/** The text in ASCII letters: signs and glyphs replaced, raised figures lowered, blanks made single. */
export function plainChordText(text: string): string {
  let plain = text;
  for (const [sign, letters] of SIGNS) plain = plain.replace(sign, letters);
  return (
    plain
      .normalize("NFKC")
      // A triangle with or without its seven is a major seventh; a bare caret would be only a major triad.
      .replace(/\^(?!\s?(?:6|7|9|11|13|\())/g, "maj7")
      .replace(/\^/g, "maj")
      .replace(/\s+/g, " ")
      .trim()
  );
}
