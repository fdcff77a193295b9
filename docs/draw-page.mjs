// Photographs the page anew for the README: a sample tune on it, with one moment and its other ways. `npm run picture`
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const main = fileURLToPath(new URL("../dist/cli/main.js", import.meta.url));
const picture = fileURLToPath(new URL("page.png", import.meta.url));

const service = spawn(process.execPath, [main, "serve", "--port", "0"], {
  stdio: ["ignore", "pipe", "inherit"],
});
const address = await new Promise((resolve, reject) => {
  service.stdout.on("data", (said) => resolve(/http:\S+/.exec(said)[0]));
  service.on("exit", () => reject(new Error("the service ended")));
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
try {
  const page = await browser.newPage({ viewport: { width: 1280, height: 1000 }, colorScheme: "light" });
  await page.goto(address);
  await page.getByRole("button", { name: "Harbour in June" }).click();
  await page.locator(".path-strip").first().waitFor();
  await page.locator("#progress:empty").waitFor({ state: "attached" });
  // A moment in the first system with several ways to play it.
  const others = page.locator(".rail > .other");
  for (let step = 0; step < 24 && (step < 6 || (await others.count()) < 5); step += 1)
    await page.locator(".walker").press("ArrowRight");
  await page.locator(".walker").evaluate((walker) => walker.blur());
  await page.evaluate("window.scrollTo(0, 0)");
  await page.waitForTimeout(500);
  await page.screenshot({ path: picture });
} finally {
  await browser.close();
  service.kill();
}
