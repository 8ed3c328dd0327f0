// The readings as the core judges them: asked for only while something on the page shows them.

import { computed, signal } from "@preact/signals";
import * as core from "./core";
import { placeKey } from "./job/tree";
import type { Place, PlaceTests, TestsAnswer } from "./job/types";
import { site } from "./site";
import { job } from "./state";
import type { Way } from "./tested";
import { words } from "words:page";

export const tested = computed<TestsAnswer>(() => {
  // Not yet there: nothing is judged, and nothing is said against any entry.
  if (site.value === false) return { outcome: "cannot-say", errors: [], judgements: [] };
  try {
    return core.readings(job.value);
  } catch (reason) {
    console.error(reason);
    return { outcome: "cannot-say", errors: [{ path: "", field: null, reason: "core", text: words.error.core }], judgements: [] };
  }
});

const byPlace = computed<Map<string, PlaceTests>[]>(() =>
  tested.value.judgements.map(({ places }) => new Map(places.map((one) => [placeKey(one.place), one]))));

/** A place as each way of judging sees it. */
export function waysOf(place: Place): Way[] {
  const key = placeKey(place);
  return tested.value.judgements.map(({ earthing }, at) => ({ earthing: words.earthing[earthing], place: byPlace.value[at]?.get(key) }));
}

/** What was said of each entry of the readings, by its path. */
export const readingErrors = computed(() => {
  const map = new Map<string, string>();
  for (const { path, text } of tested.value.errors) map.set(path, [map.get(path), text].filter(Boolean).join(" "));
  return map;
});

/** The reading entered last, for those who hear the page. */
export const lastRead = signal<{ place: Place; path: string } | null>(null);
