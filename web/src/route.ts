// Where one stands on the path, kept in the address so that the back button walks back.

import { computed, signal } from "@preact/signals";
import { exists } from "./job/tree";
import type { Place } from "./job/types";
import { job } from "./state";

const singles = ["job", "jobs", "pass", "rules", "readings", "instruments", "record", "drawing", "self-check"] as const;
type Single = "whole" | (typeof singles)[number];
export type View = { view: Single } | { view: "place" | "meter"; place: Place; aspect?: "earthing" | "pictures" }
  /** A job, or a part of one, that came in the address. */
  | { view: "take" | "part"; text: string }
  /** A set of exercises, in the address too. */
  | { view: "lesson"; text: string };

const hash = signal(typeof location === "undefined" ? "" : location.hash);

export function readHash(text: string): View {
  const [, kind = "", ...rest] = text.split("/");
  const single = singles.find((one) => one === kind);
  if (single !== undefined) return { view: single };
  if (kind === "take" || kind === "part" || kind === "lesson") return { view: kind, text: rest.join("/") };
  if (kind === "earthing" || kind === "pictures") {
    const at = readHash(`#/${kind === "earthing" ? "board" : "circuit"}/${rest[0] ?? ""}`);
    return at.view === "place" ? { ...at, aspect: kind } : at;
  }
  const view = rest.at(-1) === "meter" ? "meter" : "place";
  if (kind === "supply") return { view, place: { kind } };
  if (kind === "board" || kind === "circuit") {
    try {
      return { view, place: { kind, id: decodeURIComponent(rest[0] ?? "") } };
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

export function hrefOfPictures(circuit: string): string {
  return `#/pictures/${encodeURIComponent(circuit)}`;
}

/** The same place, at the meter. */
export function meterOf(place: Place): string {
  return `${hrefOf(place)}/meter`;
}

const asked = computed(() => readHash(hash.value));

export const view = computed<View>(() => {
  const at = asked.value;
  return "place" in at && !exists(job.value, at.place) ? { view: "whole" } : at;
});

export function go(to: string): void {
  if (location.hash !== to) location.hash = to;
  hash.value = to;
}

/** Goes there without a way back to where one stands now. */
export function goInstead(to: string): void {
  history.replaceState(history.state, "", to);
  hash.value = to;
}

export function followHash(): void {
  addEventListener("hashchange", () => (hash.value = location.hash));
}
