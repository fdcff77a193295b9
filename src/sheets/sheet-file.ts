import { escapedText } from "./markup.js";
import { PAGE_MM } from "./sheet-page.js";

/** Pages as one HTML file that needs nothing else; each prints on a page of its own. */
export const sheetHtml = (title: string, pages: readonly string[]): string =>
  `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapedText(title)}</title>
<style>
@page { size: A4; margin: 0; }
body { margin: 0; background: #ccd3d1; }
svg.page { display: block; width: min(100%, 210mm); height: auto; margin: 0 auto 6mm; background: #fff; }
@media print { body { background: none; } svg.page { width: 210mm; height: 296.5mm; margin: 0; break-after: page; } svg.page:last-child { break-after: auto; } }
</style>
</head>
<body>
${pages.map((page) => page.replace("<svg ", '<svg class="page" ')).join("\n")}
</body>
</html>
`;

/** Pages as one SVG, one below the other, in millimetres. */
export function sheetSvg(title: string, pages: readonly string[]): string {
  const height = PAGE_MM.height * pages.length;
  const stacked = pages.map((page, index) =>
    page.replace(
      "<svg ",
      `<svg y="${index * PAGE_MM.height}" width="${PAGE_MM.width}" height="${PAGE_MM.height}" `,
    ),
  );
  return `<?xml version="1.0" encoding="UTF-8"?>
<svg xmlns="http://www.w3.org/2000/svg" width="${PAGE_MM.width}mm" height="${height}mm" viewBox="0 0 ${PAGE_MM.width} ${height}">
<title>${escapedText(title)}</title>
${stacked.join("\n")}
</svg>
`;
}
