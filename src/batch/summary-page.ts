import type { BatchRow } from "./batch-row.js";
import type { BatchSummary } from "./batch-summary.js";
import { SUMMARY_SCRIPT, SUMMARY_STYLE } from "./summary-page-parts.js";

/** A browser stays quick with so many rows; the JSON has them all. */
const ROWS_SHOWN = 5000;

interface Column {
  readonly heading: string;
  /** Its cells are all alike, and nobody sorts by them. */
  readonly isUnsorted?: true;
  /** What the row is sorted by: a number, or text where that is undefined. */
  readonly number?: (row: BatchRow) => number | undefined;
  /** Markup. */
  readonly cell: (row: BatchRow) => string;
}

const OUTCOMES: Readonly<Record<BatchRow["outcome"], string>> = {
  arranged: "arranged",
  refused: "refused",
  stopped: "given up",
  trouble: "in trouble",
  leftAlone: "left alone",
};

const COLUMNS: readonly Column[] = [
  { heading: "Title", cell: (row) => escaped(titleOf(row)) },
  { heading: "Outcome", cell: ({ outcome }) => OUTCOMES[outcome] },
  { heading: "Key", cell: ({ arranged }) => escaped(arranged?.key ?? "") },
  { heading: "Fits", cell: ({ arranged }) => arranged?.fits ?? "" },
  {
    heading: "With chord",
    number: ({ arranged }) => arranged?.withChord,
    cell: ({ arranged }) => (arranged === undefined ? "" : `${Math.round(arranged.withChord * 100)} %`),
  },
  {
    heading: "Hardest move",
    number: ({ arranged }) => arranged?.hardestMove?.mmPerSecond ?? (arranged === undefined ? undefined : 0),
    cell: ({ arranged }) => {
      if (arranged === undefined) return "";
      const { hardestMove } = arranged;
      return hardestMove === undefined
        ? "none"
        : `${hardestMove.mmPerSecond} mm/s, measure ${hardestMove.measure}`;
    },
  },
  { heading: "Warnings", number: ({ warnings }) => warnings, cell: warningsCell },
  {
    heading: "Files",
    isUnsorted: true,
    cell: ({ outcome, score, sheet }) =>
      `${outcome === "arranged" ? `${link(score, "guitar score")}, ` : ""}${link(sheet, "lead sheet")}`,
  },
];

/** A summary as one page that needs no other file, nor a network. What needs an eye stands first. */
export function batchPage({ counts, notBegun, needAnEye, rows, program }: BatchSummary): string {
  const byInput = new Map(rows.map((row) => [row.input, row]));
  const said = `${counts.arranged} of ${counts.scores + notBegun} lead sheets are arranged.`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>Arranged for guitar: ${counts.arranged} of ${counts.scores + notBegun}</title>
<style>${SUMMARY_STYLE}</style>
</head>
<body>
<a class="skip" href="#all">To the table of all scores</a>
<main>
<h1>Arranged for guitar</h1>
<p>${said} ${countsText(counts, notBegun)}</p>
${needAnEye.length === 0 ? "<p>No score stands out.</p>" : eyeList()}
<h2 id="all">All scores</h2>
<p class="small" id="how">A heading that is pressed sorts by its column, pressed again the other way round.</p>
${rows.length > ROWS_SHOWN ? `<p>The first ${ROWS_SHOWN} of ${rows.length}; the JSON beside this page has them all.</p>` : ""}
<div class="wide" role="region" aria-labelledby="all" tabindex="0">
<table aria-labelledby="all" aria-describedby="how">
<thead><tr>${COLUMNS.map(headingMarkup).join("")}</tr></thead>
<tbody>
${rows.toSorted(byTitle).slice(0, ROWS_SHOWN).map(rowMarkup).join("\n")}
</tbody>
</table>
</div>
<p id="sorted" role="status"></p>
<p class="small">Wide stretches and fast moves are for a hand that is warm; stop at pain, and ask a teacher whether a grip suits your hand. Whether you may make or share an arrangement of a tune that is not yours depends on the law where you are. Undervoice ${escaped(program)}.</p>
</main>
<script>${SUMMARY_SCRIPT}</script>
</body>
</html>
`;

  function eyeList(): string {
    const items = needAnEye.map(({ input, reasons }) => {
      const row = byInput.get(input);
      const links = row === undefined ? "" : ` (${COLUMNS.at(-1)?.cell(row)})`;
      const name = escaped(row === undefined ? nameOf(input) : titleOf(row));
      return `<li><strong>${name}</strong>${links}<ul>${reasons.map((why) => `<li>${escaped(why)}</li>`).join("")}</ul></li>`;
    });
    return `<h2>These need an eye first</h2>\n<ol class="eye">\n${items.join("\n")}\n</ol>`;
  }
}

const titleOf = ({ arranged, input }: BatchRow): string => arranged?.title ?? nameOf(input);

/** The same on every machine, whatever its language. */
const ALPHABET = new Intl.Collator("en");

const byTitle = (one: BatchRow, other: BatchRow): number => ALPHABET.compare(titleOf(one), titleOf(other));

function headingMarkup({ heading, isUnsorted }: Column, index: number): string {
  if (isUnsorted) return `<th scope="col">${heading}</th>`;
  const sorted = index === 0 ? ' aria-sort="ascending"' : "";
  return `<th scope="col"${sorted}><button type="button">${heading}</button></th>`;
}

const rowMarkup = (row: BatchRow): string =>
  `<tr class="${row.outcome}">${COLUMNS.map((column, index) => {
    const value = column.number?.(row);
    const sortBy = column.number === undefined ? "" : ` data-by="${value ?? -1}" class="number"`;
    const cell = column.cell(row);
    return index === 0 ? `<th scope="row">${cell}</th>` : `<td${sortBy}>${cell}</td>`;
  }).join("")}</tr>`;

function warningsCell({ warnings, says }: BatchRow): string {
  if (says.length === 0) return String(warnings);
  const more =
    warnings > says.length ? [`and ${warnings - says.length} more, which arranging it by itself says`] : [];
  const lines = [...says, ...more].map((line) => `<li>${escaped(line)}</li>`);
  return `<details><summary>${warnings}</summary><ul>${lines.join("")}</ul></details>`;
}

function countsText(counts: BatchSummary["counts"], notBegun: number): string {
  const others = (Object.keys(OUTCOMES) as BatchRow["outcome"][])
    .filter((outcome) => outcome !== "arranged" && counts[outcome] > 0)
    .map((outcome) => `${counts[outcome]} ${OUTCOMES[outcome]}`);
  const all = notBegun > 0 ? [...others, `${notBegun} not begun`] : others;
  return all.length === 0 ? "" : `The others: ${all.join(", ")}.`;
}

/** A path as a link: each piece encoded, so that no name in it leads anywhere else. */
function link(path: string, text: string): string {
  const pieces = path.split("/").map(encodeURIComponent).join("/");
  const href = path.startsWith("/") ? `file://${pieces}` : `./${pieces}`;
  return `<a href="${escaped(href)}">${text}</a>`;
}

const nameOf = (input: string): string => input.split(/[\\/]/).at(-1) ?? input;

const escaped = (text: string): string =>
  text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;");
