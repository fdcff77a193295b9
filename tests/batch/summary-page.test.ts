import { existsSync } from "node:fs";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { BatchRow } from "../../src/batch/batch-row.js";
import { batchSummary } from "../../src/batch/batch-summary.js";
import { batchPage } from "../../src/batch/summary-page.js";
import { completeOptions } from "../../src/options/option-checking.js";
import { BROWSER, FLAGS } from "../page/page-in-browser.js";

const row = (index: number): BatchRow => ({
  input: `tune-${index}.xml`,
  sheet: `../tune-${index}.xml`,
  score: `tune-${index}-guitar.musicxml`,
  outcome: "arranged",
  arranged: {
    title: index % 3 === 0 ? `The ${index} Herons and Their Very Long Umbrella` : `Tune ${index}`,
    key: index % 2 === 0 ? "C major or A minor" : "Eb major",
    semitones: 0,
    fits: index % 4 === 0 ? "on more of the neck" : "as written",
    notes: 40,
    withChord: 0.97,
    hardestMove: { mmPerSecond: 230, measure: 14, beat: 1 },
    moves: 39,
    movesTooFast: 0,
  },
  warnings: index % 5,
  says: Array.from(
    { length: index % 5 },
    () =>
      "part P1, measure 10, beat 1: warning: Two chord symbols stand on one beat; they were spread over beats 1 and 3.",
  ),
});

const PAGE = batchPage(
  batchSummary(
    Array.from({ length: 80 }, (_, index) => row(index + 1)),
    { program: "1.2.3", options: completeOptions({}), notBegun: 0, seconds: 1 },
  ),
);

describe.skipIf(!existsSync(BROWSER))("the summary of a shelf in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: BROWSER, args: FLAGS });
  }, 120_000);
  afterAll(() => browser.close());

  async function opened(width: number): Promise<Page> {
    const page = await browser.newPage({ viewport: { width, height: 800 } });
    await page.setContent(PAGE);
    return page;
  }

  /** The sideways places of an element's edges, in pixels of the window. */
  const edges = (page: Page, selector: string) =>
    page.locator(selector).first().boundingBox() as Promise<{
      x: number;
      y: number;
      width: number;
      height: number;
    }>;

  test.each([360, 390, 768, 1024, 1280, 1600])(
    "%i pixels wide: it never scrolls sideways as a whole",
    async (width) => {
      const page = await opened(width);
      const wide = () => page.evaluate("document.documentElement.scrollWidth");
      expect(await wide()).toBeLessThanOrEqual(width);
      await page.locator("tbody summary").first().click();
      expect(await wide()).toBeLessThanOrEqual(width);
      await page.close();
    },
  );

  test("on a desk the headings stay in sight, and warnings that are opened move no column", async () => {
    const page = await opened(1280);
    const before = await edges(page, "thead th:last-child");
    await page.locator("tbody summary").first().click();
    expect((await edges(page, "thead th:last-child")).x).toBe(before.x);
    await page.locator("tbody tr").nth(60).scrollIntoViewIfNeeded();
    expect((await edges(page, "thead th")).y).toBe(0);
    await page.close();
  });

  test("on a phone a title stays beside what is said of it", async () => {
    const page = await opened(390);
    const { x } = await edges(page, "tbody th");
    await page.evaluate("document.querySelector('.wide').scrollLeft = 500");
    const title = await edges(page, "tbody th");
    expect(title.x).toBeCloseTo(x, 0);
    expect(title.width).toBeLessThan(390 / 2);
    await page.close();
  });

  test("on a phone, scrolled to its far corner, every heading stays over its own column", async () => {
    const page = await opened(390);
    await page.evaluate(
      "const table = document.querySelector('.wide'); table.scrollIntoView(); table.scrollTo(500, 1000)",
    );
    const { x, y, width, height } = await edges(page, "thead th");
    const under = (await page.evaluate(
      `[.1, .5, .9].map((share) => document.elementFromPoint(${x} + share * ${width}, ${y + height / 2}).closest("th").cellIndex)`,
    )) as number[];
    expect(under).toEqual([0, 0, 0]);
    expect(y).toBeCloseTo((await edges(page, ".wide")).y, -1);
    await page.close();
  });

  test("it opens in the order of titles and says so, and each heading sorts but that of the files", async () => {
    const page = await opened(1280);
    const titles = () => page.locator("tbody th").allTextContents();
    const inOrder = await titles();
    expect(inOrder).toEqual(inOrder.toSorted(new Intl.Collator("en").compare));
    expect(await page.locator("th[aria-sort]").allTextContents()).toEqual(["Title"]);
    await page.locator("thead button").first().click();
    expect(await titles()).toEqual(inOrder.toReversed());
    expect(await page.locator("thead th:not(:has(button))").allTextContents()).toEqual(["Files"]);
    await page.close();
  });
});
