import type { Barre, Placement } from "../../arrangement/arrangement.js";
import { element, type XmlElement } from "../../xml/xml-tree.js";

/** Fret spaces a chord diagram shows at least. */
const FEWEST_FRETS = 4;

/**
 * A chord diagram of one grip. Frets are absolute; where the grip lies above the first spaces, the
 * diagram begins at its lowest fret and says so. A barre starts on its lowest-pitched string.
 */
export function frameElement(
  grip: readonly Placement[],
  barres: readonly Barre[],
  strings: number,
): XmlElement {
  const stopped = grip.map(({ fret }) => fret).filter((fret) => fret > 0);
  const highest = Math.max(0, ...stopped);
  const first = highest <= FEWEST_FRETS ? 1 : Math.min(...stopped);
  return element("frame", { unplayed: "x" }, [
    element("frame-strings", {}, [strings]),
    element("frame-frets", {}, [Math.max(FEWEST_FRETS, highest - first + 1)]),
    ...(first === 1 ? [] : [element("first-fret", {}, [first])]),
    ...grip
      .toSorted((one, other) => other.string - one.string)
      .map(({ string, fret, finger }) => {
        const edge = barreEdge(string, fret, barres, grip);
        return element("frame-note", {}, [
          element("string", {}, [string]),
          element("fret", {}, [fret]),
          ...(finger > 0 ? [element("fingering", {}, [finger])] : []),
          ...(edge === undefined ? [] : [element("barre", { type: edge })]),
        ]);
      }),
  ]);
}

function barreEdge(
  string: number,
  fret: number,
  barres: readonly Barre[],
  grip: readonly Placement[],
): "start" | "stop" | undefined {
  const isWhole = (barre: Barre) =>
    [barre.from, barre.to].every((end) => grip.some((one) => one.string === end && one.fret === barre.fret));
  for (const barre of barres)
    if (barre.fret === fret && isWhole(barre)) {
      if (barre.from === string) return "start";
      if (barre.to === string) return "stop";
    }
  return undefined;
}
