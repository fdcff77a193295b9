import { oneLine } from "../one-line.js";
import { notDefault } from "../options/levels.js";
import { PROGRAM } from "../version.js";
import type { EventReport, Report } from "./report.js";
import { summaryLines } from "./summary.js";

const COLUMNS: readonly { heading: string; cell: (event: EventReport) => string }[] = [
  { heading: "measure", cell: (event) => oneLine(event.measureLabel ?? String(event.measure)) },
  { heading: "beat", cell: (event) => String(event.beat) },
  { heading: "chord", cell: (event) => event.chord ?? "" },
  { heading: "attack", cell: (event) => event.attack },
  { heading: "degrees", cell: (event) => event.degrees.join(" ") },
  {
    heading: "without",
    cell: ({ leftOut, voicesLeftOut = [] }) =>
      [
        ...leftOut.map(({ degree }) => degree),
        ...voicesLeftOut.map(({ voice, pitch }) => `${pitch} of ${oneLine(voice)}`),
      ].join(", "),
  },
  {
    heading: "string:fret-finger",
    cell: (event) =>
      event.notes
        .map(({ string, fret, finger }) => `${string}:${fret}${finger === 0 ? "" : `-${finger}`}`)
        .join(" "),
  },
  { heading: "then mm", cell: (event) => event.moveMm?.toFixed(0) ?? "" },
  { heading: "mm/s", cell: (event) => event.mmPerSecond?.toFixed(0) ?? "" },
];

/** The whole report as plain text: the summary, what it was made with, then one line for each moment. */
export function textReport(report: Report): string {
  const rows = [
    COLUMNS.map(({ heading }) => heading),
    ...report.events.map((event) => COLUMNS.map(({ cell }) => cell(event))),
  ];
  const widths = COLUMNS.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  const table = rows.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join("  ")
      .trimEnd(),
  );
  return `${[...summaryLines(report), madeWith(report), "", ...table].join("\n")}\n`;
}

/** "Undervoice 0.1.0, geese.musicxml, texture full, key Eb". */
function madeWith({ version, input, options }: Report): string {
  const asked = Object.entries(notDefault(options)).map(([name, value]) => `${name} ${value}`);
  return oneLine(
    [`Made by ${PROGRAM} ${version}`, ...(input === undefined ? [] : [input]), ...asked].join(", "),
  );
}
