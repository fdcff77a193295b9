import { startPage } from "./page.js";

startPage();
// Without it the page works as long as there is a network.
void navigator.serviceWorker?.register("service-worker.js").catch(() => undefined);
