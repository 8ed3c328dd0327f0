// What of the page comes once the verdict is on it.

import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import { words } from "words:page";

type Views = typeof import("./views");

/** null while they are on their way, false where they could not be had. */
export const views = signal<Views | null | false>(null);
let coming: Promise<void> | null = null;

/** Also unasked, so that none is missing when the network is, or when a newer version has taken the place of this one. */
export function fetchViews(): Promise<void> {
  return coming ??= import("./views").then(
    (all) => { views.value = all; },
    (reason: unknown) => {
      console.error(reason);
      views.value = false;
    },
  );
}

export function later<P extends object>(pick: (of: Views) => ComponentType<P>): ComponentType<P> {
  return (props: P) => {
    useEffect(() => void fetchViews(), []);
    if (views.value === false) return <span class="wrong">{words.error.page}</span>;
    const View = views.value && pick(views.value);
    return View && <View {...props} />;
  };
}
