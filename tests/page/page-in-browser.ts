import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, vi } from "vitest";
import { portInTest } from "../server/service-in-test.js";

// A browser on a machine that is busy takes its time.
vi.setConfig({ testTimeout: 180_000 });

export const BROWSER = process.env.CHROMIUM ?? "/usr/bin/chromium";
const PAGE = fileURLToPath(new URL("../../dist/server/page/main.js", import.meta.url));

/** Why the page cannot be tried here; undefined where it can. */
export const whyNoPage = !existsSync(BROWSER)
  ? `there is no chromium at ${BROWSER}`
  : existsSync(PAGE)
    ? undefined
    : "the page is not built";
if (whyNoPage !== undefined) console.warn(`The page is not tried in a browser: ${whyNoPage}.`);

/** A browser that asks nobody for anything of its own. */
export const FLAGS = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export interface PageInTest {
  readonly address: string;
  readonly context: () => BrowserContext;
  /** The page freshly opened; what it writes to the console, and what it asks of others, is kept. */
  open(size?: { readonly width: number; readonly height: number }): Promise<OpenPage>;
}

export interface OpenPage {
  readonly page: Page;
  readonly messages: readonly string[];
  readonly requests: readonly string[];
}

/** One browser and one service for the tests of a file. */
export async function pageInTest(): Promise<PageInTest> {
  const port = await portInTest();
  const address = `http://127.0.0.1:${port}/`;
  const profile = mkdtempSync(join(tmpdir(), "undervoice-browser-"));
  let context: BrowserContext | undefined;
  beforeAll(async () => {
    context = await chromium.launchPersistentContext(profile, {
      executablePath: BROWSER,
      args: FLAGS,
      acceptDownloads: true,
    });
  }, 120_000);
  afterAll(async () => {
    await context?.close();
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  });
  const opened = () => {
    if (context === undefined) throw new Error("the browser has not started");
    return context;
  };
  return {
    address,
    context: opened,
    async open(size = { width: 1280, height: 900 }) {
      const page = await opened().newPage();
      await page.setViewportSize(size);
      const messages: string[] = [];
      const requests: string[] = [];
      page.on("console", (message) => messages.push(`${message.type()}: ${message.text()}`));
      page.on("pageerror", (error) => messages.push(`error: ${error.message}`));
      page.on("request", (request) => requests.push(request.url()));
      await page.goto(address);
      return { page, messages, requests };
    },
  };
}

/** A score is brought and everything about it is drawn. */
export async function bring(page: Page, name: string, content: string | Uint8Array): Promise<void> {
  const buffer = Buffer.from(content);
  await page.locator("#file").setInputFiles({ name, mimeType: "application/octet-stream", buffer });
}

/** Waits until all that was asked for is drawn. */
export async function settled(page: Page): Promise<void> {
  await page.locator(".path-strip").first().waitFor({ timeout: 120_000 });
  await page.locator("#progress:empty").waitFor({ state: "attached", timeout: 120_000 });
}

/** The file that a button of the page gives. */
export async function fileFrom(page: Page, room: string, name: string): Promise<Buffer> {
  const opener = page.getByRole("button", { name: room, exact: true });
  if ((await opener.getAttribute("aria-expanded")) === "false") await opener.click();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name, exact: true }).click(),
  ]);
  const chunks: Buffer[] = [];
  for await (const chunk of await download.createReadStream()) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}
