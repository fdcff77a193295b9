import type { EventReport } from "../reporting/event-report.js";
import type { HandTrace } from "../reporting/hand-trace.js";
import { type Block, INNER_MM, PAGE_MM, words } from "./sheet-page.js";

/** Distance between two lines of a TAB, and room above it for chord and measure, mm. */
const LINE_MM = 1.4;
const ABOVE_MM = 5.2;
const BELOW_MM = 1.2;
const NAME_MM = 2.1;
/** A tune of up to 32 measures takes four rows. */
const ROWS = 4;
const FEWEST_IN_ROW = 4;
const MOST_IN_ROW = 8;
/** Before the first note of a measure, and for a measure that has none, in quarter notes. */
const LEAD_QUARTERS = 0.35;

/** What of each moment is written. */
export type TabContent = "melody" | "struck";

/**
 * A tune as rows of TAB, four of them where it has up to 32 measures: frets on lines, the highest string on top, chord symbols above. Of
 * the melody alone, or of all that is struck; what rings on is not written again.
 */
export function tabRows(
  events: readonly EventReport[],
  { measures, moments, neck }: HandTrace,
  content: TabContent,
): readonly Block[] {
  const inRow = Math.min(Math.max(Math.ceil(measures.length / ROWS), FEWEST_IN_ROW), MOST_IN_ROW);
  const fretMm = inRow > 6 ? 1.7 : 2;
  const rows = Array.from({ length: Math.ceil(measures.length / inRow) }, (_, row) => row);
  return rows.map((row) => {
    const first = row * inRow;
    const here = measures.slice(first, first + inRow);
    const widths = here.map(({ length }) => Math.max(length, 1) + LEAD_QUARTERS);
    // A last row that is short is no wider than its measures would be in a full one.
    const whole = Math.max(
      widths.reduce((sum, width) => sum + width, 0),
      (inRow * Math.max(...widths)) / (here.length < inRow ? 1 : 2),
    );
    const scale = INNER_MM / whole;
    const height = (neck.strings - 1) * LINE_MM;
    return {
      heightMm: ABOVE_MM + height + BELOW_MM,
      draw(top) {
        const y = (string: number) => top + ABOVE_MM + (string - 1) * LINE_MM;
        let x: number = PAGE_MM.margin;
        const pieces: string[] = [];
        here.forEach(({ start }, index) => {
          const width = (widths[index] ?? 0) * scale;
          const number = first + index + 1;
          for (let string = 1; string <= neck.strings; string += 1)
            pieces.push(line(x, y(string), x + width, y(string), 0.12));
          pieces.push(line(x, y(1), x, y(neck.strings), 0.25));
          pieces.push(line(x + width, y(1), x + width, y(neck.strings), 0.25));
          pieces.push(words(String(number), x + 0.3, y(1) - 3.6, 1.6, { fill: "#444" }));
          let chord = "";
          for (const [moment, event] of events.entries()) {
            if (event.measure !== number) continue;
            const at = x + ((moments[moment]?.at ?? start) - start + LEAD_QUARTERS) * scale;
            if (event.chord !== undefined && event.chord !== chord && content === "struck")
              pieces.push(words(event.chord, at, y(1) - 1.3, NAME_MM));
            chord = event.chord ?? chord;
            for (const { string, fret } of written(event, content))
              pieces.push(fretAt(at, y(string), fret, fretMm));
          }
          x += width;
        });
        return pieces.join("");
      },
    };
  });
}

/** The notes of a moment that a hand strikes then. */
function written(event: EventReport, content: TabContent): EventReport["notes"] {
  const melody = event.melody === undefined ? [] : event.notes.slice(-1);
  if (event.attack === "under") return content === "melody" ? [] : event.notes.slice(0, -1);
  if (content === "melody" || event.attack === "held") return melody;
  return event.notes;
}

const line = (x1: number, y1: number, x2: number, y2: number, width: number): string =>
  `<line x1="${fixed(x1)}" y1="${fixed(y1)}" x2="${fixed(x2)}" y2="${fixed(y2)}" stroke="#000" stroke-width="${width}"/>`;

function fretAt(x: number, y: number, fret: number, size: number): string {
  const content = String(fret);
  const width = content.length * size * 0.6;
  return `<rect x="${fixed(x - 0.2)}" y="${fixed(y - 0.7)}" width="${fixed(width + 0.3)}" height="1.4" fill="#fff"/>${words(content, x, y + size * 0.36, size, { isBold: true })}`;
}

const fixed = (value: number): number => Math.round(value * 100) / 100;
