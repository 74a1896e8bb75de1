// Brings a film to one frame after another by the pointer, in Firefox, and keeps a picture of
// the screen for each; then drags along the ruler, and tells, as JSON, how long pictures took.
// Arguments: the folder puppeteer-core was installed in, the browser, the page's address, the
// script that watches, a folder for the pictures, the frames (JSON), the sweeps of a drag (JSON).
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, address, watch, folder, frames, sweeps] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const page = await browser.newPage();
await page.setViewport({ width: 390, height: 844 });
await page.goto(address);
const last = await page.$eval(".film", (film) => Number(film.dataset.frames) - 1);
const ruler = await (await page.$(".film-track svg")).boundingBox();
const video = await page.$(".film video");
const to = (frame) =>
  page.mouse.move(ruler.x + (ruler.width * frame) / last, ruler.y + ruler.height / 2);
const shown = (frame) => page.waitForSelector(`.film[data-shown='${frame}']`, { timeout: 15000 });

await to(0);
await page.mouse.down();
await shown(0);
await page.evaluate(readFileSync(watch, "utf-8"));
for (const [n, frame] of JSON.parse(frames).entries()) {
  await to(frame);
  await shown(frame);
  await page.evaluate(
    () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
  );
  await video.screenshot({ path: join(folder, `${n}.png`) });
}
const jumps = await page.evaluate(() => window.filmWatch.told());
const began = performance.now();
let moves = 0;
for (const sweep of JSON.parse(sweeps)) {
  for (const frame of sweep) {
    await to(frame);
    moves += 1;
    const early = began + (moves * 1000) / 60 - performance.now();
    if (early > 0) await new Promise((done) => setTimeout(done, early));
  }
}
await page.evaluate(() => new Promise((done) => setTimeout(done, 500)));
const drag = await page.evaluate(() => window.filmWatch.told());
await browser.close();
console.log(JSON.stringify({ jumps, drag }));
