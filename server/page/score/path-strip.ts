import type { EventReport, HandTrace, MoveEffort } from "undervoice";
import { draw } from "../parts/make.js";

/** A moment as it stands in a system: its index in the report and its place from the left. */
export interface PlacedMoment {
  readonly index: number;
  readonly x: number;
}

/** What a strip is drawn from. Widths and places in the units of the system's picture. */
export interface StripSettings {
  readonly width: number;
  readonly left: number;
  readonly right: number;
  readonly barlines: readonly number[];
  readonly moments: readonly PlacedMoment[];
  readonly trace: HandTrace;
  readonly events: readonly EventReport[];
  /** Highest place that is drawn, mm from the nut. */
  readonly upToMm: number;
}

/** Height of a strip and of its margins, in the same units as a staff of the engraver. */
export const STRIP_HEIGHT = 3000;
const MARGIN = 170;
const FRETS_NAMED = [3, 5, 7, 9, 12, 15, 17, 19];

/** The hand's way under a system: left to right the time of the system, bottom to top the neck from the nut. */
export function pathStrip(settings: StripSettings): SVGSVGElement {
  const { width, left, right, barlines, moments, trace, events, upToMm } = settings;
  const { neck } = trace;
  const scale = (STRIP_HEIGHT - 2 * MARGIN) / Math.max(upToMm - neck.nutMm, 1);
  const y = (mm: number) => STRIP_HEIGHT - MARGIN - (mm - neck.nutMm) * scale;
  const line = (name: string, x1: number, y1: number, x2: number, y2: number) =>
    draw("line", { class: name, x1, y1, x2, y2 });
  const frets = [neck.nutMm, ...neck.fretsMm].flatMap((mm, fret) =>
    mm > upToMm + 1
      ? []
      : [
          line(fret === 0 ? "nut" : "fret", left, y(mm), right, y(mm)),
          ...(FRETS_NAMED.includes(fret) || fret === 0
            ? [
                draw(
                  "text",
                  { class: "fret-name", x: left - 90, y: y(mm) + 75 },
                  fret === 0 ? "nut" : String(fret),
                ),
              ]
            : []),
        ],
  );
  const hands = moments.flatMap(({ index, x }, order) => {
    const next = moments[order + 1]?.x ?? right;
    const until = next - Math.min(300, (next - x) * 0.45);
    const moment = trace.moments[index];
    if (moment === undefined) return [];
    const { handMm, spanMm } = moment;
    const [low, high] = spanMm ?? [handMm, handMm];
    const top = y(high) - 60;
    return [
      draw("rect", {
        class: spanMm === undefined ? "hand over-open" : "hand",
        "data-moment": index,
        x: x - 60,
        y: top,
        width: Math.max(until - x + 60, 120),
        height: y(low) + 60 - top,
        rx: 60,
      }),
      // Neighbouring fingers stand side by side, so that none covers another.
      ...fingersOf(events[index], trace).map(({ mm, finger }, order) =>
        draw("text", { class: "hand-finger", x: x - 30 + (order % 2) * 115, y: y(mm) + 65 }, String(finger)),
      ),
      ...moveFrom(settings, index, until, moments[order + 1]?.x, y),
    ];
  });
  return draw(
    "svg",
    { class: "path-strip", viewBox: `0 0 ${width} ${STRIP_HEIGHT}`, "aria-hidden": "true" },
    ...barlines.map((x) => line("strip-bar", x, y(upToMm), x, y(neck.nutMm))),
    ...frets,
    ...hands,
  );
}

/** Where each finger of a grip is: a barring finger once. */
function fingersOf(event: EventReport | undefined, { neck }: HandTrace) {
  const seen = new Set<string>();
  const notes = event?.notes.toSorted((one, other) => one.finger - other.finger) ?? [];
  return notes.flatMap(({ finger, fret }) => {
    const mm = neck.fretsMm[fret - 1];
    const key = `${finger} ${fret}`;
    if (finger === 0 || mm === undefined || seen.has(key)) return [];
    seen.add(key);
    return [{ mm, finger }];
  });
}

/** Wide enough that a word stands in it. */
const ROOM_FOR_LABEL = 260;

function moveFrom(
  { trace, right }: StripSettings,
  index: number,
  from: number,
  nextX: number | undefined,
  y: (mm: number) => number,
): readonly SVGElement[] {
  const move = trace.moves.find((one) => one.from === index && one.to === index + 1);
  const [here, next] = [trace.moments[index], trace.moments[index + 1]];
  if (move === undefined || here === undefined || next === undefined || move.effort === "still") return [];
  const x2 = nextX === undefined ? right : nextX - 60;
  const [x1, y1, y2] = [from, y(middle(here)), y(middle(next))];
  const path = FORMS[move.effort](x1, y1, x2, y2);
  const label = LABELS[move.effort];
  return [
    draw("path", { class: `move ${move.effort}`, d: path }),
    ...(label === undefined || Math.abs(x2 - x1) + Math.abs(y2 - y1) < ROOM_FOR_LABEL / 3
      ? []
      : [
          draw(
            "text",
            { class: `move-label ${move.effort}`, x: (x1 + x2) / 2, y: Math.min(y1, y2) - 70 },
            label === "!" ? "!" : `${Math.round(move.moveMm)}`,
          ),
        ]),
  ];
}

const middle = ({ handMm, spanMm }: HandTrace["moments"][number]): number =>
  spanMm === undefined ? handMm : (spanMm[0] + spanMm[1]) / 2;

/** Each effort has a form of its own, so that it is read without colour. */
const FORMS: Readonly<
  Record<Exclude<MoveEffort, "still">, (x1: number, y1: number, x2: number, y2: number) => string>
> = {
  easy: (x1, y1, x2, y2) => `M${x1} ${y1} L${x2} ${y2}`,
  brisk: (x1, y1, x2, y2) => `M${x1} ${y1} L${x2} ${y2}`,
  hard: (x1, y1, x2, y2) => `M${x1} ${y1 - 45} L${x2} ${y2 - 45} M${x1} ${y1 + 45} L${x2} ${y2 + 45}`,
  beyond: zigzag,
};

const LABELS: Readonly<Partial<Record<MoveEffort, string>>> = { hard: "mm", beyond: "!" };

function zigzag(x1: number, y1: number, x2: number, y2: number): string {
  const points = Array.from({ length: 7 }, (_, step) => {
    const along = step / 6;
    const aside = step === 0 || step === 6 ? 0 : step % 2 === 0 ? 70 : -70;
    return `${x1 + (x2 - x1) * along + aside} ${y1 + (y2 - y1) * along}`;
  });
  return `M${points.join(" L")}`;
}
