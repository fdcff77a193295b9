/** Tunings that have a name among players, from the lowest string up. Common practice. */
export const NAMED_TUNINGS: Readonly<Record<string, string>> = {
  standard: "E2 A2 D3 G3 B3 E4",
  dadgad: "D2 A2 D3 G3 A3 D4",
  "drop-d": "D2 A2 D3 G3 B3 E4",
  "double-drop-d": "D2 A2 D3 G3 B3 D4",
  "open-d": "D2 A2 D3 F#3 A3 D4",
  "open-g": "D2 G2 D3 G3 B3 D4",
};

/** The open strings that a tuning names, by its name or one by one: "DADGAD" is "D2 A2 D3 G3 A3 D4". */
export const stringsOfTuning = (tuning: string): string => {
  const name = tuning.trim().toLowerCase();
  return Object.hasOwn(NAMED_TUNINGS, name) ? (NAMED_TUNINGS[name] ?? tuning) : tuning;
};
