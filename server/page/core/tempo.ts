import type { Arranged, ArrangeOptions } from "undervoice";

/** Where neither the score nor the options say; the table of options promises it. */
const TEMPO_UNSAID = 100;

/** The tempo a tune begins at, quarter notes a minute. */
export const quartersPerMinute = (
  { tempos }: Arranged["sheet"]["tune"],
  { tempo }: Pick<ArrangeOptions, "tempo">,
): number => tempo ?? tempos[0]?.quartersPerMinute ?? TEMPO_UNSAID;
