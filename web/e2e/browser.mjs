// One Chromium for the tests, the pictures and the measurements.
import { existsSync } from "node:fs";
import { chromium } from "playwright-core";

const places = [process.env.FAULTPATH_CHROMIUM, "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

/** `port`: where another program may steer it too. */
export function openBrowser(port) {
  const executablePath = places.find((path) => path && existsSync(path));
  if (!executablePath) throw new Error("No Chromium found: install it, or name it in FAULTPATH_CHROMIUM.");
  return chromium.launch({
    executablePath,
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", ...(port === undefined ? [] : [`--remote-debugging-port=${port}`])],
  });
}
