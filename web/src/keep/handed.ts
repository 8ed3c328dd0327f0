// Files that come from outside the page: dropped anywhere on it, or handed to it by the device. The list of jobs takes
// them.

import { signal } from "@preact/signals";
import { go } from "../route";

export const handed = signal<readonly File[]>([]);

/** Of an installed page: a file that was opened with it. Not in the types of the DOM yet. */
type LaunchQueue = { setConsumer: (take: (launch: { files: readonly { getFile: () => Promise<File> }[] }) => void) => void };

function hand(files: readonly File[]): void {
  if (files.length === 0) return;
  handed.value = files;
  go("#/jobs");
}

/** What the service worker has laid aside: `public/hand-in.js`. */
async function fromSheet(): Promise<File[]> {
  const cache = await caches.open("handed-in");
  const files: File[] = [];
  for (const request of await cache.keys()) {
    const answer = await cache.match(request);
    await cache.delete(request);
    if (answer) files.push(new File([await answer.blob()], decodeURIComponent(answer.headers.get("x-name") ?? "")));
  }
  return files;
}

export function followHanded(): void {
  // A file that is dropped beside its place would be opened instead of the page.
  addEventListener("dragover", (event) => {
    if (event.dataTransfer?.types.includes("Files")) event.preventDefault();
  });
  addEventListener("drop", (event) => {
    if (!event.dataTransfer?.types.includes("Files")) return;
    event.preventDefault();
    hand([...event.dataTransfer.files]);
  });
  const { launchQueue } = window as { launchQueue?: LaunchQueue };
  launchQueue?.setConsumer(({ files }) => void Promise.all(files.map((one) => one.getFile())).then(hand));
  if (location.hash === "#/jobs" && "caches" in window && import.meta.env.MODE === "production") {
    void fromSheet().then(hand, (reason: unknown) => console.warn(reason));
  }
}
