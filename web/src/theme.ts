// Light or dark as the device says, unless the person says otherwise.

import { effect, signal } from "@preact/signals";

export type Theme = "device" | "light" | "dark";
const slot = "faultpath.theme";

function remembered(): Theme {
  try {
    const text = localStorage.getItem(slot);
    return text === "light" || text === "dark" ? text : "device";
  } catch {
    return "device";
  }
}

export const theme = signal<Theme>(remembered());

export function followTheme(): void {
  effect(() => {
    const now = theme.value;
    if (now === "device") delete document.documentElement.dataset.theme;
    else document.documentElement.dataset.theme = now;
    try {
      localStorage.setItem(slot, now);
    } catch {
      // It then holds for this visit only.
    }
  });
}
