/** Every file of the page, and a word that changes with any of them; the build puts both in. */
declare const PAGE_FILES: readonly string[];
declare const PAGE_STATE: string;

/** The part of a service worker's world that is used here. */
interface Keeper {
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
  addEventListener(kind: "install" | "activate", hear: (event: Lasting) => void): void;
  addEventListener(kind: "fetch", hear: (event: Asked) => void): void;
}
interface Lasting {
  waitUntil(work: Promise<unknown>): void;
}
interface Asked extends Lasting {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}

const keeper = self as unknown as Keeper;
const NAME = `undervoice ${PAGE_STATE}`;

/** Keeps the page's files, so that it opens without a network; nothing else is kept, and no score. */
keeper.addEventListener("install", (event) =>
  event.waitUntil(
    caches
      .open(NAME)
      .then((kept) => kept.addAll(PAGE_FILES.map((file) => new Request(file, { cache: "reload" }))))
      .then(() => keeper.skipWaiting()),
  ),
);

keeper.addEventListener("activate", (event) =>
  event.waitUntil(
    caches
      .keys()
      .then((names) =>
        Promise.all(
          names
            .filter((name) => name.startsWith("undervoice ") && name !== NAME)
            .map((name) => caches.delete(name)),
        ),
      )
      .then(() => keeper.clients.claim()),
  ),
);

keeper.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "GET") return;
  const isOpened =
    request.mode === "navigate" && request.url.replace(/[?#].*$/, "") === keeper.registration.scope;
  event.respondWith(
    caches
      .open(NAME)
      .then((kept) => kept.match(isOpened ? new URL("index.html", keeper.registration.scope).href : request))
      .then((kept) => kept ?? fetch(request)),
  );
});
