/**
 * Times the page in a real browser, on the sample scores: from a score that is brought to its first system, from
 * there to the path of the hand, and from a choice to the new path. `npm run page-times`; needs chromium, at
 * /usr/bin/chromium or where CHROMIUM says.
 */
import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { chromium, type Page } from "playwright-core";

const SAMPLES = "sample-scores";
const CHOICES = 3;

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
  for (const file of readdirSync(SAMPLES).filter((name) => name.endsWith(".musicxml"))) {
    await page.evaluate("performance.clearMeasures()");
    await page.locator("#file").setInputFiles(join(SAMPLES, file));
    await page.waitForFunction(() => performance.getEntriesByName("brought to path").length > 0, undefined, {
      timeout: 120_000,
    });
    await settled(page);
    const measures = await page.locator(".engraving g.measure").count();
    for (let choice = 0; choice < CHOICES; choice += 1) await choose(page, choice);
    const [engraving] = await times(page, "brought to engraving");
    const [path] = await times(page, "brought to path");
    const chosen = (await times(page, "chosen to path")).map((ms) => ms.toFixed(0)).join(" ");
    console.log(
      `${file.padEnd(32)}${String(measures).padStart(7)}${(engraving ?? 0).toFixed(0).padStart(14)}${(path ?? 0).toFixed(0).padStart(9)}  ${chosen}`,
    );
  }
} finally {
  await browser.close();
  service.kill();
}

/** Takes the cheapest other way at a moment some way into the tune. */
async function choose(page: Page, choice: number): Promise<void> {
  const walker = page.locator(".walker");
  await walker.press("Home");
  for (let step = 0; step < 4 + choice * 3; step += 1) await walker.press("PageDown");
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
