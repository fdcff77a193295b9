import { oneLine } from "../one-line.js";
import type { KeyEntry, KeySurvey, PlaceReport } from "./key-survey-report.js";
import { momentText } from "./summary.js";

interface Row {
  readonly entry: KeyEntry;
  readonly place: PlaceReport;
}

interface Column {
  readonly heading: string;
  readonly cell: (row: Row) => string;
}

const COLUMNS: readonly Column[] = [
  { heading: "key", cell: ({ entry }) => entry.key },
  { heading: "moved", cell: ({ place }) => signed(place.semitones) },
  { heading: "cost", cell: ({ place }) => String(place.cost) },
  { heading: "with chord", cell: ({ place }) => percent(place.harmonised) },
  {
    heading: "open strings",
    cell: ({ place: { openStrings, openMoments } }) =>
      openStrings.length === 0 ? "none" : `${openStrings.join(" ")} (${percent(openMoments)})`,
  },
  {
    heading: "hardest move",
    cell: ({ place: { hardestMove } }) =>
      hardestMove === undefined
        ? "none"
        : `${hardestMove.mmPerSecond.toFixed(0)} mm/s, ${momentText(hardestMove.to)}`,
  },
  {
    heading: "easier with a capo",
    cell: ({ entry: { capo, places }, place }) =>
      capo === undefined || place !== places[0] ? "" : `at ${capo.fret}: ${capo.shapes} shapes, ${capo.cost}`,
  },
];

/** What of an ensemble, or of a bass under the tune, is kept; columns only where there is one. */
const OF_VOICES: readonly Column[] = [
  {
    heading: "bass and tones kept",
    cell: ({ place: { ensemble } }) =>
      ensemble === undefined ? "" : `${percent(ensemble.bassKept)}, ${percent(ensemble.tonesKept)}`,
  },
  {
    heading: "bass out of reach",
    cell: ({ place: { ensemble } }) =>
      ensemble === undefined ? "" : `${ensemble.bassOutOfReach} of ${ensemble.bassNotes}`,
  },
];

/** A survey as a table, a line for each key and octave that fits, then those that do not. */
export function keysLines({ title, key, keys }: KeySurvey): readonly string[] {
  const rows = keys
    .flatMap((entry) => entry.places.map((place): Row => ({ entry, place })))
    .sort((one, other) => one.place.cost - other.place.cost);
  const isOfVoices = rows.some(({ place }) => place.ensemble !== undefined);
  const columns = isOfVoices ? COLUMNS.toSpliced(4, 0, ...OF_VOICES) : COLUMNS;
  const cells = [
    columns.map(({ heading }) => heading),
    ...rows.map((row) => columns.map(({ cell }) => cell(row))),
  ];
  const widths = columns.map((_, column) => Math.max(...cells.map((row) => row[column]?.length ?? 0)));
  const table = cells.map((row) =>
    row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join("  ")
      .trimEnd(),
  );
  const misfits = keys.filter(({ fits }) => !fits);
  return [
    `${oneLine(title ?? "Untitled")}, written in ${key}`,
    ...(rows.length === 0 ? [] : ["", ...table]),
    ...(misfits.length === 0
      ? []
      : [
          "",
          "The melody does not lie on its strings in:",
          ...misfits.map((entry) => `  ${misfitText(entry)}`),
        ]),
  ];
}

const misfitText = ({ key, notesOutside = 0 }: KeyEntry): string =>
  `${key} (${notesOutside} note${notesOutside === 1 ? "" : "s"} outside)`;

const signed = (semitones: number): string => (semitones > 0 ? `+${semitones}` : String(semitones));
const percent = (share: number): string => `${Math.round(share * 100)} %`;
