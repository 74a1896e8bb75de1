// Taps a worksheet in Firefox, opening the page anew in the middle, and tells, as JSON, the text it
// came to and what was complained of.
// Arguments: the folder puppeteer-core was installed in, the browser, the page's address.
import { createRequire } from "node:module";
import { join } from "node:path";

const [installed, firefox, address] = process.argv.slice(2);
const puppeteer = createRequire(join(installed, "x.js"))("puppeteer-core");
const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
});
const complaints = [];
const page = await browser.newPage();
await page.setViewport({ width: 320, height: 700 });
page.on("pageerror", (error) => complaints.push(String(error)));
await page.goto(address);
const press = (keys) =>
  page.evaluate((all) => {
    for (const key of all) document.querySelector(key).click();
  }, keys);
await press(["[data-shot='9']", "[data-mishit=thin]", "[data-impact-here]", "[data-tool=blur]"]);
await page.reload();
await press(["[data-tool=blur]"]);
await page.focus("[data-stage]");
await page.keyboard.press("Enter");
const text = await page.$eval("[data-text-now]", (told) => told.textContent);
const wide = await page.evaluate(() => document.documentElement.scrollWidth);
await browser.close();
console.log(JSON.stringify({ text, wide, complaints }));
process.exit(0);
