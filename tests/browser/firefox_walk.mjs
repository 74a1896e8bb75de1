// Opens each page in Firefox and tells, as JSON, what it complained of, what it asked of
// outside, and what became of its first film when it was played and stepped by key.
// Arguments: the folder puppeteer-core was installed in, the browser, the pages' addresses.
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, ...addresses] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const told = [];
for (const address of addresses) {
  const page = await browser.newPage();
  await page.setViewport({ width: 390, height: 844 });
  const complaints = [];
  const outside = [];
  const home = address.startsWith("file:") ? "file:" : new URL(address).origin;
  page.on("console", (message) => {
    if (["error", "warn", "warning"].includes(message.type())) complaints.push(message.text());
  });
  page.on("pageerror", (error) => complaints.push(String(error)));
  page.on("request", (request) => {
    const ours = /^(data|blob):/.test(request.url()) || request.url().startsWith(home);
    if (!ours) outside.push(request.url());
  });
  await page.goto(address);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
  const film = (await page.$(".film video")) ? await useFilm(page) : null;
  await page.waitForNetworkIdle({ timeout: 15000 }); // a film under way complains of being left
  told.push({ address, title: await page.title(), complaints, outside, wide, film });
  await page.close();
}
await browser.close();
console.log(JSON.stringify(told));

async function useFilm(page) {
  const time = () => page.$eval(".film video", (video) => video.currentTime);
  const fps = await page.$eval(".film", (film) => Number(film.dataset.fps));
  const shown = (frame) => page.waitForSelector(`.film[data-shown='${frame}']`, { timeout: 15000 });
  const strike = await page.$eval(".film", (film) => Number(film.dataset.impact));
  await page.focus(".film .film-track");
  await page.keyboard.press("ArrowLeft");
  await shown(strike - 1);
  const stepped = (await time()) * fps;
  await page.keyboard.press("Home");
  await shown(0);
  const first = (await time()) * fps;
  await page.keyboard.press(" ");
  // the film itself goes on within a second, where the browser alone would wait for fifteen
  await page.waitForFunction(() => document.querySelector(".film video").currentTime > 0.2, {
    timeout: 12000,
  });
  return { strike, stepped, first, played: await time() };
}
