// Opens a student's front page in Firefox until the phone has kept everything, says so, and waits
// for a line: by then there is no host any more. Then tells, as JSON, what every page showed.
// Arguments: the folder puppeteer-core was installed in, the browser, the pages' addresses.

import { once } from "node:events";
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, front, ...addresses] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const page = await browser.newPage();
await page.setViewport({ width: 390, height: 844 });
const complaints = [];
page.on("console", (message) => {
  if (["error", "warn", "warning"].includes(message.type())) complaints.push(message.text());
});
page.on("pageerror", (error) => complaints.push(String(error)));

await page.goto(front);
for (const wish of ["all", "films"]) {
  const key = await page.waitForSelector(`[data-wish=${wish}]:not([hidden])`, { timeout: 120000 });
  await key.click();
}
await page.waitForFunction(
  () =>
    document.querySelectorAll("[data-kept] [role=status]:not([hidden])").length === 1 &&
    document.querySelectorAll("[data-wish]:not([hidden])").length === 0,
  { timeout: 120000 },
);
console.log("kept");
await once(process.stdin, "data");

const told = [];
for (const address of addresses) {
  await page.goto(address);
  const heading = await page.$eval("h1", (h1) => h1.textContent);
  const ink = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  const film = (await page.$(".film video")) ? await play() : null;
  told.push({ address, heading, ink, film });
}
await browser.close();
console.log(JSON.stringify({ told, complaints }));
process.exit(0);

async function play() {
  await page.focus(".film .film-track");
  await page.keyboard.press(" ");
  await page.waitForFunction(() => document.querySelector(".film video").currentTime > 0.2, {
    timeout: 20000,
  });
  return page.$eval(".film video", (video) => video.currentTime);
}
