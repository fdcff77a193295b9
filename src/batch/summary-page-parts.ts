/** Colours by name once for light and once for dark; everything else follows from them. */
export const SUMMARY_STYLE = `
:root { --paper: #fdfcf9; --ink: #22252b; --faint: #5c626d; --line: #d6d3ca; --wood: #8a4b16; --alert: #9b1c1c; --band: #f3f0e8; }
@media (prefers-color-scheme: dark) {
  :root { --paper: #191b1f; --ink: #e8e6e1; --faint: #a9adb6; --line: #3d4149; --wood: #e0a56a; --alert: #ff9a8f; --band: #22252b; }
}
* { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 1rem/1.5 system-ui, sans-serif; }
main { max-width: 84rem; margin: 0 auto; padding: 1.5rem; }
h1 { margin: 0 0 .25rem; font-size: 1.6rem; }
h2 { margin: 2rem 0 .5rem; font-size: 1.2rem; }
a { color: var(--wood); white-space: nowrap; }
:focus-visible { outline: 3px solid var(--wood); outline-offset: 2px; }
.skip { position: absolute; left: -99rem; }
.skip:focus { left: 1rem; top: 1rem; padding: .5rem; background: var(--paper); }
.eye { padding-left: 2rem; columns: 26rem; column-gap: 3rem; }
.eye > li { break-inside: avoid; margin-bottom: .75rem; }
.eye ul { margin: 0; padding-left: 1.1rem; color: var(--faint); overflow-wrap: anywhere; }
.wide { border: 1px solid var(--line); border-radius: .4rem; }
table { width: 100%; border-collapse: collapse; }
th, td { padding: .4rem .75rem; text-align: left; vertical-align: top; border-top: 1px solid var(--line); }
td { white-space: nowrap; }
td:nth-child(3), td:nth-child(4) { white-space: normal; min-width: 6.75rem; }
thead th { position: sticky; top: 0; z-index: 1; vertical-align: middle; background: var(--band); white-space: nowrap; }
th[scope="row"] { font-weight: 600; }
thead button { font: inherit; font-weight: 600; color: inherit; background: none; border: 0; padding: .25rem 0; cursor: pointer; }
th[aria-sort="ascending"] button::after { content: " \\25B4"; }
th[aria-sort="descending"] button::after { content: " \\25BE"; }
td.number { font-variant-numeric: tabular-nums; }
tr:not(.arranged) td:nth-child(2) { color: var(--alert); font-weight: 600; }
/* Opened under the columns before its own, so that no column moves. */
details ul { margin: .25rem 0 0 -28rem; padding-left: 1.1rem; width: 34rem; white-space: normal; overflow-wrap: anywhere; }
/* Where the table is wider than the page it scrolls by itself, and its titles stay in sight too. */
@media (max-width: 77rem) {
  .wide { overflow: auto; max-height: 90vh; }
  th[scope="row"], thead th:first-child { position: sticky; left: 0; min-width: 9rem; overflow-wrap: anywhere; background: var(--paper); }
  thead th:first-child { z-index: 2; background: var(--band); }
  details ul { margin-left: 0; width: 11rem; }
}
.small { color: var(--faint); font-size: .875rem; max-width: 48rem; }
`;

/** Sorts the table by the heading that is pressed; without it the page is whole, by name. */
export const SUMMARY_SCRIPT = `
for (const button of document.querySelectorAll("thead button")) {
  button.addEventListener("click", () => {
    const heading = button.closest("th");
    const column = heading.cellIndex;
    const way = heading.getAttribute("aria-sort") === "ascending" ? -1 : 1;
    for (const other of heading.parentNode.children) other.removeAttribute("aria-sort");
    heading.setAttribute("aria-sort", way === 1 ? "ascending" : "descending");
    const body = document.querySelector("tbody");
    const key = (row) => {
      const cell = row.cells[column];
      return cell.dataset.by === undefined ? cell.textContent.trim() : Number(cell.dataset.by);
    };
    const rows = [...body.rows].map((row) => [key(row), row]);
    rows.sort(([a], [b]) => way * (typeof a === "number" ? a - b : a.localeCompare(b, "en")));
    body.append(...rows.map(([, row]) => row));
    document.getElementById("sorted").textContent =
      "Sorted by " + button.textContent + ", " + (way === 1 ? "ascending" : "descending") + ".";
  });
}
`;
