// Presses a lesson together in Firefox, opening the page anew in the middle, and tells, as JSON,
// the text it came to and what was complained of. A page from a host is first opened until it is
// kept; that is said, and a line waited for: by then there is no host any more.
// Arguments: the folder puppeteer-core was installed in, the browser, the page's address.
import { once } from "node:events";
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
const open = async () => {
  const page = await browser.newPage();
  await page.setViewport({ width: 320, height: 700 });
  page.on("pageerror", (error) => complaints.push(String(error)));
  await page.goto(address);
  return page;
};
const press = (page, keys) =>
  page.evaluate((all) => {
    for (const key of all) document.querySelector(key).click();
  }, keys);
let page = await open();
if (address.startsWith("http")) {
  await page.waitForFunction(
    async () => {
      const kept = await Promise.all((await caches.keys()).map((name) => caches.open(name)));
      const listed = await Promise.all(kept.map((each) => each.keys()));
      return listed.some((names) => names.length > 12);
    },
    { timeout: 120000, polling: 500 },
  );
  console.log("kept");
  await once(process.stdin, "data");
  await page.close();
  page = await open();
}
await press(page, ["[data-start] button"]);
await page.select("#range-number", "holed");
await press(page, ["[data-block=before]", "[data-ball=in]", "[data-ball=left]"]);
await page.close();
page = await open();
await press(page, ["[data-block=after]", "[data-ball=in]", "[data-ball=out]", "[data-do=undo]"]);
await press(page, ["[data-do=end]"]);
const text = await page.$eval("#range-text", (field) => field.value);
const wide = await page.evaluate(() => document.documentElement.scrollWidth);
await browser.close();
console.log(JSON.stringify({ text, wide, complaints }));
process.exit(0);
