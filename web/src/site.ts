// The core's second file, which has the whole of it. It is opened behind the first, which only judges, so that the
// verdict does not wait for it.
//
// What is wrong with a board's `site` only this one sees; no figure of the design rests on it.

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
