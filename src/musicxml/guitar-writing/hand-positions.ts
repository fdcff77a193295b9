import type { ArrangedEvent, Arrangement } from "../../arrangement/arrangement.js";
import { placementsAt } from "../../arrangement/hand-moves.js";
import { lastUntil } from "../../song/in-time-order.js";
import type { BarreRun } from "./barre-marks.js";

/** A place where the hand settles: the fret its index finger is at or over. Ticks. */
export interface HandPosition {
  readonly fret: number;
  readonly at: number;
}

/** Moments in a row that the hand must stay for to have settled; our own, as no source gives a figure. */
const SETTLED_MOMENTS = 3;

/**
 * Where the hand settles in a position that no barre names. A position is said again only after another
 * one, or another barre, was.
 */
export function handPositions(
  arrangement: Arrangement,
  barres: readonly BarreRun[],
): readonly HandPosition[] {
  const positions: HandPosition[] = [];
  let stay: { readonly fret: number; readonly at: number; moments: number } | undefined;
  for (const event of arrangement.events) {
    const fret = indexFret(arrangement, event);
    // Open strings leave the hand where it is.
    if (fret === undefined) continue;
    if (stay?.fret === fret) stay.moments += 1;
    else stay = { fret, at: event.onset, moments: 1 };
    if (stay.moments === SETTLED_MOMENTS && fret > 1) positions.push({ fret, at: stay.at });
  }
  return positions.filter(({ fret, at }, index) => {
    const barre = lastUntil(barres, at, ({ start }) => start);
    if (barre !== undefined && barre.barre.fret === fret && (barre.end > at || isLastNamed(barre.start)))
      return false;
    const before = positions[index - 1];
    return before?.fret !== fret || (barre !== undefined && barre.start > before.at);

    function isLastNamed(start: number): boolean {
      const named = positions[index - 1];
      return named === undefined || named.at < start;
    }
  });
}

/** The fret under the index finger, or where it lies over the others; undefined where nothing is stopped. */
function indexFret(arrangement: Arrangement, event: ArrangedEvent): number | undefined {
  const stopped = placementsAt(arrangement, event).filter(({ finger }) => finger > 0);
  const [lowest] = stopped.toSorted((one, other) => one.finger - other.finger);
  return lowest === undefined ? undefined : Math.max(1, lowest.fret - lowest.finger + 1);
}
