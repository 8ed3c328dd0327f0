// Parts of the page whose code comes once the verdict is on it.

import { signal, type ReadonlySignal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import { words } from "words:page";

/** null while it is on its way, false where it could not be had. */
type Found<P> = ComponentType<P> | null | false;
export type Later<P> = ComponentType<P> & { found: ReadonlySignal<Found<P>> };

const all: (() => Promise<void>)[] = [];

export function later<P extends object>(load: () => Promise<ComponentType<P>>): Later<P> {
  const found = signal<Found<P>>(null);
  let coming: Promise<void> | null = null;
  const come = () => (coming ??= load().then(
    (part) => { found.value = part; },
    (reason: unknown) => {
      console.error(reason);
      found.value = false;
    },
  ));
  all.push(come);
  const Part = (props: P) => {
    const View = found.value;
    useEffect(() => void come(), []);
    if (View === false) return <span class="wrong">{words.error.page}</span>;
    return View && <View {...props} />;
  };
  return Object.assign(Part, { found });
}

/** All of them, so that none is missing when the network is, or when a newer version has taken the place of this one. */
export async function fetchAll(): Promise<void> {
  for (const come of all) {
    await come();
    // One at a time: an entry that is just being made goes first.
    await new Promise((done) => setTimeout(done));
  }
}
