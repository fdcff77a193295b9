import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import axe from "axe-core";
import { describe, expect, test } from "vitest";
import { bring, type OpenPage, pageInTest, settled, whyNoPage } from "./page-in-browser.js";

const SAMPLE = readFileSync(
  fileURLToPath(new URL("../../sample-scores/slow-bell.musicxml", import.meta.url)),
);

/** What axe-core finds against WCAG 2.2 AA and its own best practices, as rule and place. */
async function faultsIn({ page }: OpenPage): Promise<readonly string[]> {
  await page.evaluate(axe.source);
  const { violations } = (await page.evaluate("axe.run(document)")) as axe.AxeResults;
  return violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(" ")}`));
}

describe.skipIf(whyNoPage !== undefined)("the page for everyone", async () => {
  const tried = await pageInTest();

  test.each(["light", "dark"] as const)(
    "nothing keeps people out, before a score and with one, %s",
    async (colorScheme) => {
      const opened = await tried.open();
      const { page, messages } = opened;
      await page.emulateMedia({ colorScheme });
      await page.locator(".samples button").first().waitFor();
      expect(await faultsIn(opened)).toEqual([]);
      await bring(page, "slow-bell.musicxml", SAMPLE);
      await settled(page);
      for (const room of ["Hear it", "Key and texture", "Your choices", "Take it away"]) {
        await page.getByRole("button", { name: room, exact: true }).click();
        expect(await faultsIn(opened), room).toEqual([]);
      }
      expect(messages).toEqual([]);
      await page.close();
    },
  );

  test("by the keyboard alone a sample is opened, a moment is found, another way is chosen and taken back", async () => {
    const { page, messages } = await tried.open();
    await page.locator(".samples button").first().waitFor();
    const tabTo = async (isThere: string) => {
      for (let step = 0; step < 80; step += 1) {
        await page.keyboard.press("Tab");
        if (await page.evaluate(`document.activeElement?.matches(${JSON.stringify(isThere)})`)) return;
      }
      throw new Error(`the keyboard does not reach ${isThere}`);
    };
    await tabTo(".samples button");
    await page.keyboard.press("Enter");
    await settled(page);
    await tabTo(".walker");
    await page.keyboard.press("PageDown");
    await page.keyboard.press("ArrowRight");
    const said = await page.locator(".walker").getAttribute("aria-valuetext");
    expect(said).toMatch(/^measure \d+.*: .*on top/);
    // On to a moment that there is another way for.
    for (let step = 0; step < 40 && (await page.locator(".take").count()) === 0; step += 1)
      await page.keyboard.press("ArrowRight");
    await tabTo(".take");
    const before = await page.locator(".facts").textContent();
    await page.keyboard.press("Enter");
    await settled(page);
    expect(await page.locator(".facts").textContent()).not.toBe(before);
    await page.keyboard.press("Control+z");
    await settled(page);
    expect(await page.locator(".facts").textContent()).toBe(before);
    expect(messages).toEqual([]);
    await page.close();
  });

  test.each([
    ["a phone", 390, 780],
    ["a desk at 200 %", 640, 450],
  ])("on %s nothing stands out at the side", async (_where, width, height) => {
    const { page } = await tried.open({ width, height });
    await bring(page, "slow-bell.musicxml", SAMPLE);
    await settled(page);
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBeLessThanOrEqual(width);
    for (const room of ["Hear it", "Key and texture", "Take it away"]) {
      await page.getByRole("button", { name: room, exact: true }).click();
      expect(await page.evaluate("document.documentElement.scrollWidth"), room).toBeLessThanOrEqual(width);
      if (room !== "Key and texture") continue;
      await page.getByRole("button", { name: "Compare the keys" }).click();
      await page.getByRole("button", { name: "Compare the keys" }).waitFor({ timeout: 120_000 });
      for (const line of await page.locator(".key").all()) {
        const box = await line.boundingBox();
        expect((box?.x ?? 0) + (box?.width ?? 0)).toBeLessThanOrEqual(width);
      }
    }
    await page.close();
  });

  test("once opened it works with the network off", async () => {
    const { page } = await tried.open();
    await page.evaluate("navigator.serviceWorker.ready.then(() => undefined)");
    await page.reload();
    await tried.context().setOffline(true);
    try {
      await page.reload();
      await page.locator(".samples button", { hasText: "Slow Bell" }).click();
      await settled(page);
      expect(await page.locator("h1").textContent()).toBe("Slow Bell");
    } finally {
      await tried.context().setOffline(false);
    }
    await page.close();
  });

  test("what is printed is the score, without the rest of the page", async () => {
    const { page } = await tried.open();
    await bring(page, "slow-bell.musicxml", SAMPLE);
    await settled(page);
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".engraving").first().isVisible()).toBe(true);
    expect(await page.locator("h1").isVisible()).toBe(true);
    for (const other of [".bench", ".path-strip", ".doors", ".summary"])
      expect(await page.locator(other).first().isVisible(), other).toBe(false);
    const pdf = await page.pdf({ format: "A4" });
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
    expect((pdf.toString("latin1").match(/\/Type\s*\/Page\b/g) ?? []).length).toBeGreaterThan(0);
    await page.close();
  });
});
