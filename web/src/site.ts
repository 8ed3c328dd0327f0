// The core's second file: test readings and ways of earthing. It is opened once the verdict is on the page, so that
// the verdict does not wait for it.

import { signal } from "@preact/signals";
import init from "./pkg-site/faultpath_wasm.js";

/** Whether it can be asked; null where it did not open. */
export const site = signal<boolean | null>(false);

export async function openSite(): Promise<void> {
  try {
    await init();
    site.value = true;
  } catch (reason) {
    console.error(reason);
    site.value = null;
  }
}
