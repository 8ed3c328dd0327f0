// Works offline after one visit. A newer version waits until the person asks for it: nothing reloads by itself.

import { signal } from "@preact/signals";
import { save } from "./keep/open";

const waiting = signal<ServiceWorker | null>(null);
export const newer = waiting;

/** Milliseconds between two looks for a newer version. */
const patience = 60 * 60 * 1000;

export function keepOffline(): void {
  if (!("serviceWorker" in navigator) || import.meta.env.MODE !== "production") return;
  void navigator.serviceWorker
    .register("./sw.js", { scope: "./" })
    .then((registration) => {
      const look = () => {
        // With no worker in charge yet this is the first visit, not an update.
        if (registration.waiting && navigator.serviceWorker.controller) waiting.value = registration.waiting;
      };
      look();
      // An installed page may lie open for weeks, and nothing asks for it anew: it looks when it is taken up again.
      let last = Date.now();
      document.addEventListener("visibilitychange", () => {
        if (document.visibilityState === "hidden" || Date.now() - last < patience) return;
        last = Date.now();
        // Without the network it is asked another time.
        registration.update().catch(() => undefined);
      });
      registration.addEventListener("updatefound", () => {
        registration.installing?.addEventListener("statechange", look);
      });
    })
    .catch((reason: unknown) => console.warn(reason));
}

/** What is on the page is kept first. */
export async function useNewer(): Promise<void> {
  const worker = waiting.value;
  if (!worker) return;
  await save();
  // Another tab may have let it in already.
  if (worker.state !== "installed") {
    location.reload();
    return;
  }
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  worker.postMessage({ type: "SKIP_WAITING" });
}
