// Opens a student's front page in Firefox until the phone has kept it, says so, and waits for a
// line: by then the site was taken down. Then opens it again and tells, as JSON, what is left.
// Arguments: the folder puppeteer-core was installed in, the browser, the page's address.

import { once } from "node:events";
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, front] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const page = await browser.newPage();

await page.goto(front);
await page.waitForSelector("[data-kept]:not([hidden])", { timeout: 120000 });
const before = await left();
console.log("kept");
await once(process.stdin, "data");

await page.goto(front);
const text = await page.evaluate(() => document.body.textContent);
let after = await left();
for (let tries = 0; tries < 400 && (after.caches || after.workers); tries++) {
  await new Promise((done) => setTimeout(done, 50));
  after = await left();
}
await browser.close();
console.log(JSON.stringify({ before, text, after }));
process.exit(0);

async function left() {
  return page.evaluate(async () => ({
    caches: (await caches.keys()).length,
    workers: (await navigator.serviceWorker.getRegistrations()).length,
  }));
}
