// Opens a student's front page in Firefox, has the phone keep everything, says so, and waits for a
// line: by then the site, or a page of it, was taken down. Then opens the front page again and
// tells, as JSON, what is left. A page that is named after the front page's address is the one to
// go; without one all of it goes.
// Arguments: the folder puppeteer-core was installed in, the browser, the page's address.

import { once } from "node:events";
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, front, leaving = ""] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const page = await browser.newPage();

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
const before = await left();
console.log("kept");
await once(process.stdin, "data");

await page.goto(front);
const text = await page.evaluate(() => document.body.textContent);
let after = await left();
const staysAwhile = () => (leaving ? after.pages.includes(leaving) : after.caches || after.workers);
for (let tries = 0; tries < 400 && staysAwhile(); tries++) {
  await new Promise((done) => setTimeout(done, 50));
  after = await left();
}
await browser.close();
console.log(JSON.stringify({ before, text, after }));
process.exit(0);

async function left() {
  return page.evaluate(async () => {
    const names = await caches.keys();
    const kept = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
    const paths = kept.flat().map((one) => new URL(one.url).pathname.split("/").pop());
    return {
      caches: names.length,
      workers: (await navigator.serviceWorker.getRegistrations()).length,
      pages: paths.filter((path) => path.endsWith(".html")).sort(),
    };
  });
}
