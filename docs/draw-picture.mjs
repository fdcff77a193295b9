// Draws the README's picture anew: the first systems of an arranged sample score, engraved by verovio and
// photographed by chromium. `npm run picture`
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { arrangeBytes, completeOptions, Findings } from "undervoice";
import { VerovioToolkit } from "verovio/esm";
import createVerovioModule from "verovio/wasm";

const sample = new URL("../sample-scores/harbour-in-june.musicxml", import.meta.url);
const picture = fileURLToPath(new URL("harbour-in-june-guitar.png", import.meta.url));

const { bytes } = arrangeBytes(readFileSync(sample), completeOptions({}), new Findings(), {
  isCompressed: false,
});
const toolkit = new VerovioToolkit(await createVerovioModule());
toolkit.setOptions({ pageWidth: 2200, pageHeight: 2400, adjustPageHeight: true, scale: 50, footer: "none" });
toolkit.loadData(new TextDecoder().decode(bytes));

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox"],
});
try {
  const page = await browser.newPage({ viewport: { width: 1120, height: 1300 } });
  await page.setContent(`<body style="margin: 0; background: white">${toolkit.renderToSVG(1)}</body>`);
  await page.locator("svg").first().screenshot({ path: picture });
} finally {
  await browser.close();
}
