// Draws the pictures of arranged sample scores anew: the first systems, engraved by verovio and photographed by
// chromium. `npm run picture`
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { arrangeBytes, completeOptions, Findings } from "undervoice";
import { VerovioToolkit } from "verovio/esm";
import createVerovioModule from "verovio/wasm";

/** Sample, picture, options. */
const PICTURES = [
  ["harbour-in-june", "harbour-in-june-guitar", {}],
  ["lamps-along-the-quay", "lamps-along-the-quay", { texture: "voices" }],
  ["geese-over-the-weir", "geese-over-the-weir", { texture: "voices", key: "best" }],
];

const toolkit = new VerovioToolkit(await createVerovioModule());
toolkit.setOptions({ pageWidth: 2200, pageHeight: 2400, adjustPageHeight: true, scale: 50, footer: "none" });

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
try {
  for (const [sample, picture, options] of PICTURES) {
    const score = readFileSync(new URL(`../sample-scores/${sample}.musicxml`, import.meta.url));
    const { bytes } = arrangeBytes(score, completeOptions(options), new Findings(), { isCompressed: false });
    toolkit.loadData(new TextDecoder().decode(bytes));
    const page = await browser.newPage({ viewport: { width: 1120, height: 1300 } });
    await page.setContent(`<body style="margin: 0; background: white">${toolkit.renderToSVG(1)}</body>`);
    const path = fileURLToPath(new URL(`${picture}.png`, import.meta.url));
    await page.locator("svg").first().screenshot({ path });
    await page.close();
  }
} finally {
  await browser.close();
}
