import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, test } from "vitest";
import { centsFrom } from "../sound/measured-pitch.js";
import { pageInTest, whyNoPage } from "./page-in-browser.js";

const file = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));

/** The page's strings as one script. */
async function stringsAsScript(): Promise<string> {
  const { outputFiles } = await build({
    entryPoints: [file("server/page/sound/strings.ts")],
    alias: { undervoice: file("src/index.ts") },
    bundle: true,
    write: false,
    format: "iife",
    globalName: "undervoiceStrings",
    target: "es2022",
  });
  return outputFiles[0]?.text ?? "";
}

const SAMPLE_RATE = 48_000;
const NOTE_SECONDS = 0.8;
// E2 to B5 in sixths and fifths, the ends among them.
const MIDIS = [40, 47, 55, 59, 64, 71, 76, 83];

describe.skipIf(whyNoPage !== undefined)("what the page sounds", async () => {
  const tried = await pageInTest();

  test("is within half a cent of every pitch, rendered by the browser", async () => {
    const { page } = await tried.open();
    await page.evaluate(`${await stringsAsScript()}; globalThis.undervoiceStrings = undervoiceStrings;`);
    const samples = (await page.evaluate(`(async () => {
      const on = new OfflineAudioContext(1, ${MIDIS.length * NOTE_SECONDS * SAMPLE_RATE}, ${SAMPLE_RATE});
      const pluck = undervoiceStrings.strings(on);
      ${JSON.stringify(MIDIS)}.forEach((midi, index) =>
        pluck(on.destination, { midi, at: index * ${NOTE_SECONDS}, length: ${NOTE_SECONDS - 0.1}, gain: 0.5 }));
      return [...(await on.startRendering()).getChannelData(0)];
    })()`)) as readonly number[];
    MIDIS.forEach((midi, index) => {
      const from = Math.round((index * NOTE_SECONDS + 0.08) * SAMPLE_RATE);
      const note = samples.slice(from, from + Math.round(0.55 * SAMPLE_RATE));
      expect(Math.abs(centsFrom(midi, note, SAMPLE_RATE)), `MIDI note ${midi}`).toBeLessThan(0.5);
    });
    await page.close();
  });
});
