import { escapedText } from "./markup.js";

/** Sheets are laid out on paper: A4 (ISO 216), millimetres. */
export const PAGE_MM = { width: 210, height: 297, margin: 14 } as const;

/** Width that text and pictures have. */
export const INNER_MM = PAGE_MM.width - 2 * PAGE_MM.margin;

/** Something on a sheet: its height, and its drawing for the place of its upper edge. */
export interface Block {
  readonly heightMm: number;
  draw(topMm: number): string;
  /** Stays on the page of the block after it. */
  readonly isHeading?: boolean;
}

/** Text as it stands on a page, its base line at `y`. Sizes in mm. */
export function words(
  content: string,
  x: number,
  y: number,
  size: number,
  { isBold = false, fill = "#000" } = {},
): string {
  return `<text x="${rounded(x)}" y="${rounded(y)}" font-size="${size}"${isBold ? ' font-weight="700"' : ""} fill="${fill}">${escapedText(content)}</text>`;
}

/** A picture that has a size of its own, in a box, against its left upper corner. */
export const pictureAt = (svg: string, x: number, y: number, width: number, height: number): string =>
  svg.replace(
    "<svg ",
    `<svg x="${rounded(x)}" y="${rounded(y)}" width="${rounded(width)}" height="${rounded(height)}" preserveAspectRatio="xMinYMin meet" color="#000" `,
  );

/** How wide a letter is on the average, against its size. From memory; lines are broken well before the edge. */
const LETTER_WIDTH = 0.52;

/** Text broken into lines that fit a width. */
export function brokenInto(content: string, width: number, size: number): readonly string[] {
  const most = Math.max(8, Math.floor(width / (size * LETTER_WIDTH)));
  const lines: string[] = [];
  let line = "";
  for (const word of content.split(" ")) {
    if (line !== "" && line.length + 1 + word.length > most) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}

/** A paragraph over the whole width. */
export function paragraph(content: string, size = 3.4): Block {
  const lines = brokenInto(content, INNER_MM, size);
  return {
    heightMm: lines.length * size * 1.4 + 2,
    draw: (top) =>
      lines.map((line, index) => words(line, PAGE_MM.margin, top + size * (1 + index * 1.4), size)).join(""),
  };
}

export const heading = (content: string, size = 4.6): Block => ({
  heightMm: size * 1.9,
  isHeading: true,
  draw: (top) => words(content, PAGE_MM.margin, top + size * 1.35, size, { isBold: true }),
});

/** Blocks one below the other on as many pages as they need, each page an SVG. A heading is never left behind. */
export function pagesOf(blocks: readonly Block[], footer: string): readonly string[] {
  const pages: string[] = [];
  let drawn = "";
  let top: number = PAGE_MM.margin;
  const bottom = PAGE_MM.height - PAGE_MM.margin - 4;
  blocks.forEach((block, index) => {
    const together = block.heightMm + (block.isHeading ? (blocks[index + 1]?.heightMm ?? 0) : 0);
    if (top + together > bottom && drawn !== "") {
      pages.push(drawn);
      drawn = "";
      top = PAGE_MM.margin;
    }
    drawn += block.draw(top);
    top += block.heightMm;
  });
  return [...pages, drawn].map((content, index, all) => {
    const number = all.length === 1 ? "" : `, page ${index + 1} of ${all.length}`;
    const foot = words(`${footer}${number}`, PAGE_MM.margin, PAGE_MM.height - PAGE_MM.margin + 2, 2.6, {
      fill: "#444",
    });
    return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${PAGE_MM.width} ${PAGE_MM.height}" font-family="system-ui, sans-serif"><rect width="${PAGE_MM.width}" height="${PAGE_MM.height}" fill="#fff"/>${content}${foot}</svg>`;
  });
}

const rounded = (value: number): number => Math.round(value * 100) / 100;
