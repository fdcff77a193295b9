import type { TextureName } from "../options/options.js";
import { distanceText } from "../song/distance-text.js";
import type { BatchRow } from "./batch-row.js";

/** A score that somebody should look at first, and why. */
export interface EyeNeeded {
  readonly input: string;
  readonly reasons: readonly string[];
}

/** So many are put first. */
const MOST = 20;

interface Reason {
  readonly points: number;
  readonly says: string;
}

/**
 * Shares of the notes with a chord, below which a score stands out: of 398 lead sheets measured two in the lean texture,
 * which leaves most notes between its chords alone, and of every tenth of them none in the full and the fluent one.
 */
const FEW_WITH_CHORD: Readonly<Record<TextureName, number>> = {
  full: 0.5,
  fluent: 0.5,
  lean: 0.25,
  voices: 0.5,
};

/** The scores of a batch in one texture that need an eye most, the first of equal ones by name. */
export function needAnEye(rows: readonly BatchRow[], texture: TextureName): readonly EyeNeeded[] {
  return rows
    .map((row) => {
      const reasons = reasonsFor(row, FEW_WITH_CHORD[texture]).toSorted((a, b) => b.points - a.points);
      return { row, reasons, points: reasons.reduce((sum, { points }) => sum + points, 0) };
    })
    .filter(({ points }) => points > 0)
    .toSorted((a, b) => b.points - a.points || (a.row.input < b.row.input ? -1 : 1))
    .slice(0, MOST)
    .map(({ row, reasons }) => ({ input: row.input, reasons: reasons.map(({ says }) => says) }));
}

const NOT_ARRANGED: Readonly<Record<Exclude<BatchRow["outcome"], "arranged">, string>> = {
  refused: "not arranged",
  stopped: "given up",
  trouble: "not done",
  leftAlone: "left alone",
};

/** Points weigh reasons against each other: what was not arranged first, then what is least like it was written. */
function reasonsFor(
  { outcome, arranged, warnings, says }: BatchRow,
  fewWithChord: number,
): readonly Reason[] {
  if (outcome !== "arranged" || arranged === undefined) {
    const how = outcome === "arranged" ? "not known" : NOT_ARRANGED[outcome];
    return [{ points: 1000, says: `${how}: ${says[0] ?? "nothing was said"}` }];
  }
  const reasons: Reason[] = [];
  const { fits, semitones, withChord, moves, movesTooFast } = arranged;
  if (fits === "moved")
    reasons.push({ points: 60, says: `moved ${distanceText(semitones)} to lie on its strings` });
  if (fits === "on more of the neck")
    reasons.push(
      semitones === 0
        ? { points: 40, says: "needs more strings or frets than asked for" }
        : {
            points: 70,
            says: `moved ${distanceText(semitones)}, and needs more strings or frets than asked for there too`,
          },
    );
  if (movesTooFast > 0)
    reasons.push({
      points: 20 + 200 * (movesTooFast / Math.max(1, moves)),
      says: `${movesTooFast} of ${moves} moves are too fast for the hand`,
    });
  if (withChord < fewWithChord)
    reasons.push({
      points: 50 * (1 - withChord / fewWithChord),
      says: `only ${Math.round(withChord * 100)} % of the notes have a chord`,
    });
  // One of them says that the tune was moved, or that it needs more of the neck, or one each; they stand last.
  const said = fits === "as written" ? 0 : fits === "on more of the neck" && semitones !== 0 ? 2 : 1;
  const others = warnings - said;
  if (others > 0)
    reasons.push({
      points: Math.min(30, 5 * others),
      says: `${others} ${said === 0 ? "" : "other "}warning${others === 1 ? "" : "s"}${others === 1 ? "" : ", first"}: ${withoutSeverity(says[0] ?? "")}`,
    });
  return reasons;
}

const withoutSeverity = (line: string): string => line.replace(/(^|: )warning: /, "$1");
