// Opens a locked site in Firefox with words, wrong ones first, and tells as JSON what it said, what it
// complained of and asked of outside, and what became of the first film that its pages lead to.
// Arguments: the folder puppeteer-core was installed in, the browser, the words, the site's address.
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, words, address] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const page = await browser.newPage();
await page.setViewport({ width: 390, height: 844 });
const told = { complaints: [], outside: [] };
const home = address.startsWith("file:") ? "file:" : new URL(address).origin;
page.on("console", (message) => {
  if (["error", "warn", "warning"].includes(message.type())) told.complaints.push(message.text());
});
page.on("pageerror", (error) => told.complaints.push(String(error)));
page.on("request", (request) => {
  const ours = /^(data|blob):/.test(request.url()) || request.url().startsWith(home);
  if (!ours) told.outside.push(request.url());
});
await page.goto(address);
await page.waitForSelector("form:not([hidden])");
await page.type("#lock-words", "not the words");
await page.keyboard.press("Enter");
const saysWrong = () =>
  document.querySelector("[data-said]").textContent ===
  document.querySelector("[data-lock]").dataset.wrong;
await page.waitForFunction(saysWrong, { timeout: 30000 });
await page.keyboard.type(words); // what was typed is marked
await page.keyboard.press("Enter");
await page.waitForSelector(".stub", { timeout: 30000 });
told.title = await page.title();
const pages = await page.$$eval('a[href^="#/2"]', (links) => links.map((link) => link.hash));
for (const hash of pages) {
  await page.evaluate((to) => document.querySelector(`a[href="${to}"]`).click(), hash);
  await page.waitForFunction((before) => document.title !== before, { timeout: 30000 }, told.title);
  if (await page.$(".film video")) break;
  await page.goBack();
  await page.waitForFunction((before) => document.title === before, { timeout: 30000 }, told.title);
}
const strike = await page.$eval(".film", (film) => Number(film.dataset.impact));
const fps = await page.$eval(".film", (film) => Number(film.dataset.fps));
const time = () => page.$eval(".film video", (video) => video.currentTime);
await page.focus(".film .film-track");
await page.keyboard.press("ArrowLeft");
await page.waitForSelector(`.film[data-shown='${strike - 1}']`, { timeout: 30000 });
told.film = { strike, stepped: (await time()) * fps };
await page.keyboard.press("Home");
await page.waitForSelector(".film[data-shown='0']", { timeout: 30000 });
await page.keyboard.press(" ");
await page.waitForFunction(() => document.querySelector(".film video").currentTime > 0.2, {
  timeout: 30000,
});
await browser.close();
console.log(JSON.stringify(told));
