// Where one stands on the path, kept in the address so that the back button walks back.

import { computed, signal } from "@preact/signals";
import { exists } from "./job/tree";
import type { Place } from "./job/types";
import { job } from "./state";

export type View = { view: "whole" } | { view: "job" } | { view: "rules" } | { view: "place"; place: Place; aspect?: "earthing" };

const hash = signal(typeof location === "undefined" ? "" : location.hash);

export function readHash(text: string): View {
  const [, kind = "", id = ""] = text.split("/");
  if (kind === "job" || kind === "rules") return { view: kind };
  if (kind === "earthing") {
    const at = readHash(`#/board/${id}`);
    return at.view === "place" ? { ...at, aspect: kind } : at;
  }
  if (kind === "supply") return { view: "place", place: { kind } };
  if (kind === "board" || kind === "circuit") {
    try {
      return { view: "place", place: { kind, id: decodeURIComponent(id) } };
    } catch {
      return { view: "whole" };
    }
  }
  return { view: "whole" };
}

export function hrefOf(place: Place): string {
  return place.kind === "supply" ? "#/supply" : `#/${place.kind}/${encodeURIComponent(place.id)}`;
}

export function hrefOfEarthing(board: string): string {
  return `#/earthing/${encodeURIComponent(board)}`;
}

const asked = computed(() => readHash(hash.value));

export const view = computed<View>(() => {
  const at = asked.value;
  return at.view === "place" && !exists(job.value, at.place) ? { view: "whole" } : at;
});

export function go(to: string): void {
  if (location.hash !== to) location.hash = to;
  hash.value = to;
}

export function followHash(): void {
  addEventListener("hashchange", () => (hash.value = location.hash));
}
