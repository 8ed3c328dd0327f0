// How the page looks: as the device says, unless the person says otherwise.

import { computed, effect, signal } from "@preact/signals";

const looks = ["light", "dark", "sun", "contrast"] as const;
type Look = (typeof looks)[number];
export const themes = ["device", ...looks] as const;
export type Theme = (typeof themes)[number];
const slot = "faultpath.theme";

function remembered(): Theme {
  try {
    const text = localStorage.getItem(slot);
    return themes.find((theme) => theme === text) ?? "device";
  } catch {
    return "device";
  }
}

export const theme = signal<Theme>(remembered());

/** What the device is set to, as it changes. */
function asked(query: string) {
  const list = matchMedia(query);
  const matches = signal(list.matches);
  list.addEventListener("change", () => (matches.value = list.matches));
  return matches;
}

export function followTheme(): void {
  const dark = asked("(prefers-color-scheme: dark)");
  const more = asked("(prefers-contrast: more)");
  const device = computed<Look>(() => (more.value ? (dark.value ? "contrast" : "sun") : dark.value ? "dark" : "light"));
  effect(() => {
    const now = theme.value;
    document.documentElement.dataset.theme = now === "device" ? device.value : now;
    // What the device draws around the page.
    const { backgroundColor } = getComputedStyle(document.documentElement);
    for (const meta of document.querySelectorAll<HTMLMetaElement>("meta[name=theme-color]")) meta.content = backgroundColor;
    try {
      localStorage.setItem(slot, now);
    } catch {
      // It then holds for this visit only.
    }
  });
}
