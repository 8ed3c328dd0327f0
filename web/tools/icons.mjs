// Draws the PNG icons from public/icon.svg with the browser. Run after changing the drawing: npm run icons
import { readFile, writeFile } from "node:fs/promises";
import { PNG } from "pngjs";
import { openBrowser } from "../e2e/browser.mjs";

const folder = new URL("../public/", import.meta.url);
const drawing = await readFile(new URL("icon.svg", folder), "utf8");
const square = drawing.replace(' rx="96"', "");
const browser = await openBrowser();
for (const [name, size, source, room] of [
  ["icon-192.png", 192, drawing, 1],
  ["icon-512.png", 512, drawing, 1],
  // Masks may cut a fifth away on each side: the drawing keeps to the middle.
  ["icon-maskable-512.png", 512, square, 0.72],
  ["apple-touch-icon.png", 180, square, 0.86],
]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const svg = source.replace("<svg ", `<svg width="${size * room}" height="${size * room}" `);
  await page.setContent(`<style>html,body{margin:0;height:100%;background:${room === 1 ? "transparent" : "#101716"}}body{display:grid;place-items:center}</style>${svg}`);
  const shot = PNG.sync.read(await page.screenshot({ omitBackground: room === 1 }));
  // Flat colours are smallest without a filter.
  await writeFile(new URL(name, folder), PNG.sync.write(shot, { filterType: 0, deflateStrategy: 0 }));
  await page.close();
}
await browser.close();
