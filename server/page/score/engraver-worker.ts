import type { EngraverReply, EngravingOrder } from "./engraver-messages.js";

/** The thread of the engraver. Its own files are loaded as they come, unchanged, from beside this one. */
interface Thread {
  postMessage(reply: EngraverReply, transfer?: readonly Transferable[]): void;
  addEventListener(kind: "message", hear: (event: MessageEvent<EngravingOrder>) => void): void;
}
const thread = self as unknown as Thread;

interface Toolkit {
  setOptions(options: Readonly<Record<string, unknown>>): void;
  loadData(xml: string): boolean;
  getPageCount(): number;
  renderToSVG(page: number): string;
}

/** Paper so low that every system makes a page; 100 is the lowest the engraver takes. */
const LOWEST_PAGE = 100;

const toolkit = startToolkit();
toolkit.then(
  () => thread.postMessage({ kind: "ready" }),
  () => undefined,
);

async function startToolkit(): Promise<Toolkit> {
  // Resolved where the page stands, not by the bundler: these are files of another licence.
  const folder = new URL("verovio/", self.location.href).href;
  const [{ VerovioToolkit, enableLog, LOG_OFF }, { default: createModule }] = await Promise.all([
    import(`${folder}verovio.mjs`),
    import(`${folder}verovio-module.mjs`),
  ]);
  const module = await createModule();
  // What it has to say of a score is for those who make engravers.
  enableLog(LOG_OFF, module);
  return new VerovioToolkit(module) as Toolkit;
}

let latest = 0;

thread.addEventListener("message", ({ data: order }) => {
  latest = order.id;
  void engrave(order).catch((error: unknown) => {
    const why = error instanceof Error ? error.message : String(error);
    thread.postMessage({ id: order.id, kind: "failed", why });
  });
});

async function engrave({ id, xml, widthPx, scale }: EngravingOrder): Promise<void> {
  const tools = await toolkit;
  if (id !== latest) return;
  tools.setOptions({
    pageWidth: Math.round((widthPx * 100) / scale),
    pageHeight: LOWEST_PAGE,
    adjustPageHeight: true,
    scale,
    breaks: "auto",
    header: "none",
    footer: "none",
    svgViewBox: true,
    pageMarginTop: 30,
    pageMarginBottom: 10,
    pageMarginLeft: 60,
    pageMarginRight: 20,
    spacingLinear: 0.3,
    spacingNonLinear: 0.58,
    spacingStaff: 7,
    lyricSize: 4.2,
    mnumInterval: 0,
  });
  if (!tools.loadData(xml)) throw new Error("the engraver cannot draw this score");
  const count = tools.getPageCount();
  thread.postMessage({ id, kind: "systems", count });
  for (let page = 1; page <= count; page += 1) {
    thread.postMessage({ id, kind: "system", index: page - 1, svg: withoutStyles(tools.renderToSVG(page)) });
    await turn();
    if (id !== latest) return;
  }
  thread.postMessage({ id, kind: "done" });
}

/** Lets a newer order be heard. */
const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

let hasSentFont = false;

/** The page's policy allows no style elements; their rules are in the page's own sheet, the font goes by itself. */
function withoutStyles(svg: string): string {
  return svg.replace(/<style[^>]*>([\s\S]*?)<\/style>/g, (_whole, sheet: string) => {
    const [, family] = /font-family:\s*'([^']+)'/.exec(sheet) ?? [];
    const [, coded] = /base64,([A-Za-z0-9+/=]+)/.exec(sheet) ?? [];
    if (!hasSentFont && family !== undefined && coded !== undefined) {
      hasSentFont = true;
      const bytes = Uint8Array.from(atob(coded), (sign) => sign.charCodeAt(0)).buffer;
      thread.postMessage({ kind: "font", family, bytes }, [bytes]);
    }
    return "";
  });
}
