import type { EngravedNote } from "undervoice";

/** Where things stand in the picture of one system, in the picture's own units. */
export interface SystemMap {
  readonly width: number;
  readonly height: number;
  /** In the order of the score; `measure` counts from 1. */
  readonly measures: readonly { readonly measure: number; readonly from: number; readonly to: number }[];
  /** Heads of notes that are struck, by time. */
  readonly heads: readonly Head[];
  /** What is drawn is drawn in here; its units are those of this map. */
  readonly paper: SVGGElement;
}

export interface Head {
  readonly note: EngravedNote;
  readonly x: number;
  readonly y: number;
  /** Where a sign before the head, such as an accidental, begins; the head's own place where there is none. */
  readonly left: number;
}

/** Reads a system's picture. `measuresBefore` says how many measures stand in those before it. */
export function mapSystem(
  picture: SVGSVGElement,
  notes: ReadonlyMap<string, EngravedNote>,
  measuresBefore: number,
): SystemMap {
  const scaled = picture.querySelector<SVGSVGElement>("svg.definition-scale");
  const paper = picture.querySelector<SVGGElement>("g.page-margin");
  if (scaled === null || paper === null) throw new Error("the picture of a system is not as it was");
  const [, , width = 0, height = 0] = (scaled.getAttribute("viewBox") ?? "").split(/\s+/).map(Number);
  const measures = [...paper.querySelectorAll("g.measure")].map((measure, index) => {
    const [from, to] = endsOf(measure.querySelector("g.staff > path")?.getAttribute("d") ?? "");
    return { measure: measuresBefore + index + 1, from, to };
  });
  const heads = [...paper.querySelectorAll("g.note[id]")].flatMap((group): Head[] => {
    const note = notes.get(group.id);
    const head = group.querySelector("g.notehead use");
    if (note === undefined || head === null) return [];
    const [x, y] = placeOf(head);
    const sign = group.querySelector("g.accid use");
    return [{ note, x, y, left: sign === null ? x : Math.min(x, placeOf(sign)[0]) }];
  });
  return { width, height, measures, heads, paper };
}

/** Left and right end of a staff line, "M2281 8360 L7988 8360". */
function endsOf(path: string): readonly [number, number] {
  const [from = 0, , to = 0] = [...path.matchAll(/-?\d+(?:\.\d+)?/g)].map(([number]) => Number(number));
  return [from, to];
}

function placeOf(sign: Element): readonly [number, number] {
  const [, x = "0", y = "0"] =
    /translate\((-?[\d.]+)[,\s]+(-?[\d.]+)\)/.exec(sign.getAttribute("transform") ?? "") ?? [];
  return [Number(x), Number(y)];
}

/** How the drawing inside the margin is moved against the picture. */
export function marginOf({ paper }: Pick<SystemMap, "paper">): readonly [number, number] {
  return placeOf(paper);
}

/**
 * Where a moment stands: at the head that is struck then, or between the barlines by its time. In quarter notes, as the
 * length of the measure is.
 */
export function xOfMoment(map: SystemMap, measure: number, onset: number, length: number): number {
  const here = map.heads.filter(
    ({ note }) => note.measure === measure && Math.abs(note.onset - onset) < SAME_TIME,
  );
  const struck = here.filter(({ note }) => note.staff === "guitar");
  const chosen = struck.length > 0 ? struck : here;
  if (chosen.length > 0) return Math.min(...chosen.map(({ x }) => x)) + HALF_HEAD;
  const bar = map.measures.find((one) => one.measure === measure);
  if (bar === undefined) return 0;
  return bar.from + ((bar.to - bar.from) * (onset + 0.3)) / Math.max(length + 0.3, 1);
}

const SAME_TIME = 0.02;
/** Half the width of a black notehead at the engraver's usual size, in its units. */
const HALF_HEAD = 105;
