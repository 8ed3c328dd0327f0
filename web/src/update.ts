// Works offline after one visit. A newer version waits until the person asks for it: nothing reloads by itself.

import { signal } from "@preact/signals";

const waiting = signal<ServiceWorker | null>(null);
export const newer = waiting;

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
      registration.addEventListener("updatefound", () => {
        registration.installing?.addEventListener("statechange", look);
      });
    })
    .catch((reason: unknown) => console.warn(reason));
}

export function useNewer(): void {
  const worker = waiting.value;
  if (!worker) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  worker.postMessage({ type: "SKIP_WAITING" });
}
