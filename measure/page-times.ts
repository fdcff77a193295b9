/**
 * Times the page in a real browser, on the sample scores and a tune of 32 bars: from a score that is brought to its
 * first system, from there to the path of the hand, and from a choice to the new path, of which the last line is the
 * middle for the 32 bars. `npm run page-times`; needs chromium, at /usr/bin/chromium or where CHROMIUM says.
 */
import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { chromium, type Page } from "playwright-core";
import { loadTune } from "./load-tune.js";

const SAMPLES = "sample-scores";
const CHOICES = 3;
/** Choices in the tune of 32 bars, and the time one may take there, ms. */
const CHOICES_IN_32_BARS = 9;
const CHOICE_GOAL_MS = 100;

const settled = (page: Page): Promise<void> =>
  page.locator("#progress:empty").waitFor({ state: "attached", timeout: 120_000 });

const times = (page: Page, name: string): Promise<readonly number[]> =>
  page.evaluate(`performance.getEntriesByName(${JSON.stringify(name)}).map(({ duration }) => duration)`);

const service = spawn(process.execPath, ["dist/cli/main.js", "serve", "--port", "0"], {
  stdio: ["ignore", "pipe", "inherit"],
});
const address = await new Promise<string>((resolve, reject) => {
  service.stdout.on("data", (said: Buffer) => resolve(/http:\S+/.exec(said.toString())?.[0] ?? ""));
  service.on("exit", () => reject(new Error("the service ended")));
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu"],
});

try {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(address);
  console.log("score                          measures  to engraving  to path  choice to path (ms)");
  const samples = readdirSync(SAMPLES).filter((name) => name.endsWith(".musicxml"));
  for (const name of samples) await timed(page, name, join(SAMPLES, name), CHOICES);
  const tune = { name: "32-bars.musicxml", mimeType: "text/xml", buffer: Buffer.from(loadTune()) };
  const inOrder = (await timed(page, tune.name, tune, CHOICES_IN_32_BARS)).toSorted(
    (one, other) => one - other,
  );
  const middle = inOrder[Math.floor(inOrder.length / 2)] ?? Number.NaN;
  console.log(
    `from a choice to the new path, 32 bars: ${middle.toFixed(0)} ms (to be ${CHOICE_GOAL_MS} at most)`,
  );
} finally {
  await browser.close();
  service.kill();
}

/** Brings a score, chooses some times in it, and prints what each took; the times of the choices. */
async function timed(
  page: Page,
  name: string,
  file: Parameters<ReturnType<Page["locator"]>["setInputFiles"]>[0],
  choices: number,
): Promise<readonly number[]> {
  await page.evaluate("performance.clearMeasures()");
  await page.locator("#file").setInputFiles(file);
  await page.waitForFunction(() => performance.getEntriesByName("brought to path").length > 0, undefined, {
    timeout: 120_000,
  });
  await settled(page);
  const measures = await page.locator(".engraving g.measure").count();
  for (let choice = 0; choice < choices; choice += 1) await choose(page, choice);
  const [engraving] = await times(page, "brought to engraving");
  const [path] = await times(page, "brought to path");
  const chosen = await times(page, "chosen to path");
  console.log(
    `${name.padEnd(32)}${String(measures).padStart(7)}${(engraving ?? 0).toFixed(0).padStart(14)}${(path ?? 0).toFixed(0).padStart(9)}  ${chosen.map((ms) => ms.toFixed(0)).join(" ")}`,
  );
  return chosen;
}

/** Takes the cheapest other way at a moment some way into the tune. */
async function choose(page: Page, choice: number): Promise<void> {
  const walker = page.locator(".walker");
  await walker.press("Home");
  for (let step = 0; step < (4 + choice * 3) % 28; step += 1) await walker.press("PageDown");
  for (let step = 0; step < 12 && (await page.locator(".rail > .other").count()) === 0; step += 1)
    await walker.press("ArrowRight");
  const before = (await times(page, "chosen to path")).length;
  await page.locator(".take").first().click();
  await page.waitForFunction(
    (count) => performance.getEntriesByName("chosen to path").length > count,
    before,
    { timeout: 120_000 },
  );
  await settled(page);
}
