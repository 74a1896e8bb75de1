// Keeps pages on the phone: each that was opened, and a student's whole site where that is wished,
// films by a wish of their own. FILES and FRONT stand above: path -> [hash, bytes]; the first page. What is not in it any
// more goes as soon as this worker is here, which a browser sees to at the next visit online.
"use strict";

const SCOPE = self.registration.scope;
const KEPT = `lesson cards ${SCOPE}`;
const WISHES = { all: `${SCOPE}?all`, films: `${SCOPE}?films` };
const PATIENCE_MS = 2500;
const LARGE = 100_000; // bytes; of what is sealed nothing else tells a film
const isSealed = (path) => path.startsWith("sealed/");
const isFilm = (path) => path.endsWith(".mp4") || (isSealed(path) && FILES[path][1] > LARGE);
const FILMS = Object.keys(FILES).filter(isFilm);
const REST = Object.keys(FILES).filter((path) => !isFilm(path));
const LOOK = REST.filter((path) => path.endsWith(".css"));

const addressOf = (path) => SCOPE + path.split("/").map(encodeURIComponent).join("/");
const keyOf = (path) => `${addressOf(path)}?${FILES[path][0]}`;
// Of whatever version: a newer worker may have put its own in the place of ours already. Asked for
// like this, a store that was emptied does not come back.
const kept = (path) => caches.match(addressOf(path), { cacheName: KEPT, ignoreSearch: true });

// Whatever cannot be fetched now must not hold up what is to go, nor must the worker before this
// one: a browser lets it stay for minutes while something that it was asked for is under way.
self.addEventListener("install", (event) => {
  event.waitUntil(
    renew()
      .finally(dropOld)
      .finally(() => self.skipWaiting()),
  );
});

// What the worker before this one kept in the meantime.
self.addEventListener("activate", (event) => {
  event.waitUntil(dropOld().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  event.waitUntil(serve(event.data).then(async () => event.source?.postMessage(await state())));
});

self.addEventListener("fetch", (event) => {
  const path = pathOf(event.request);
  if (path === null) return;
  event.respondWith(answerTo(event.request, path));
});

function answerTo(request, path) {
  if (request.headers.has("range")) return partOf(request, path);
  return isFilm(path) || isSealed(path) || /\.(css|woff2)$/.test(path)
    ? keptFirst(request, path)
    : freshFirst(request, path);
}

async function serve({ keep = [], wish }) {
  const paths = new Set(keep.map(pathAt).filter((path) => path !== null && !isFilm(path)));
  await keepAll([...paths]);
  if (!(wish in WISHES)) return;
  await (await caches.open(KEPT)).put(WISHES[wish], new Response(""));
  await keepAll(wish === "films" ? FILMS : REST);
}

// One after the other, so that nothing else has to wait; without room or a signal what is there
// stays, and the next wish goes on where this ends.
async function keepAll(paths) {
  for (const path of paths) await keepOne(path).catch(() => null);
}

async function keepOne(path) {
  const cache = await caches.open(KEPT);
  if (await cache.match(keyOf(path))) return;
  const copy = (await fetched(path, "default")) ?? (await fetched(path, "reload", true));
  await cache.put(keyOf(path), copy);
}

// A copy of its own: a browser opens no page from an answer that was led elsewhere. What a browser
// has at hand will do where it is the very file; a host may also add to its pages.
async function fetched(path, cache, whatever = false) {
  const answer = await fetch(addressOf(path), { cache });
  if (!answer.ok) throw new Error(`${answer.status} ${path}`);
  const content = await answer.arrayBuffer();
  if (!whatever && (await hashOf(content)) !== FILES[path][0]) return null;
  const type = answer.headers.get("Content-Type") ?? "";
  return new Response(content, { headers: { "Content-Type": type } });
}

async function hashOf(content) {
  const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", content));
  const letters = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return letters.slice(0, 16);
}

// What was kept of an earlier version is fetched anew, with its look, which has another name
// whenever it is another, and what was wished since.
async function renew() {
  const had = (await keysOf()).map((url) => pathAt(url)).filter((path) => path !== null);
  const wished = await wishes();
  await keepAll([
    ...new Set([
      ...(had.length ? LOOK : []),
      ...had,
      ...(wished.all ? REST : []),
      ...(wished.films ? FILMS : []),
    ]),
  ]);
}

async function dropOld() {
  const cache = await caches.open(KEPT);
  const wanted = new Set([...Object.keys(FILES).map(keyOf), ...Object.values(WISHES)]);
  for (const request of await cache.keys())
    if (!wanted.has(request.url)) await cache.delete(request);
}

async function keysOf() {
  return (await (await caches.open(KEPT)).keys()).map((request) => request.url);
}

async function wishes() {
  const urls = await keysOf();
  return { all: urls.includes(WISHES.all), films: urls.includes(WISHES.films) };
}

async function state() {
  const urls = new Set(await keysOf());
  const isHere = (path) => urls.has(keyOf(path));
  const bytes = (paths) => paths.reduce((sum, path) => sum + FILES[path][1], 0);
  return {
    pages: bytes(REST),
    films: bytes(FILMS),
    kept: { pages: REST.every(isHere), films: FILMS.every(isHere) },
  };
}

// Another folder, a strange address: none of our business.
function pathOf(request) {
  return request.method === "GET" ? pathAt(request.url) : null;
}

function pathAt(address) {
  const url = new URL(address);
  const plain = url.origin + url.pathname;
  if (!plain.startsWith(SCOPE)) return null;
  const path = decodeURIComponent(plain.slice(SCOPE.length)) || FRONT;
  return [path, `${path}.html`].find((known) => known in FILES) ?? null;
}

async function keptFirst(request, path) {
  return (await kept(path)) ?? fetch(request);
}

// A film is asked for in parts, also where the whole of it is kept.
async function partOf(request, path) {
  const copy = await kept(path);
  const asked = /^bytes=(\d+)-(\d*)$/.exec(request.headers.get("range"));
  if (!copy || !asked) return fetch(request);
  const whole = await copy.blob();
  const first = Number(asked[1]);
  const last = Math.min(whole.size - 1, Number(asked[2] || whole.size));
  return new Response(whole.slice(first, last + 1), {
    status: 206,
    headers: {
      "Content-Type": copy.headers.get("Content-Type"),
      "Content-Range": `bytes ${first}-${last}/${whole.size}`,
      "Content-Length": String(last + 1 - first),
      "Accept-Ranges": "bytes",
    },
  });
}

// What was taken down is gone here too; what cannot be reached in good time is shown as kept.
async function freshFirst(request, path) {
  const copy = await kept(path);
  if (!copy) return fetch(request);
  const late = new Promise((done) => setTimeout(done, PATIENCE_MS, copy));
  const fresh = fetch(request, { cache: "no-cache" }).then(
    (answer) => answered(answer, path, copy),
    () => copy,
  );
  return Promise.race([fresh, late]);
}

async function answered(answer, path, copy) {
  if (isGone(answer)) await forget(path);
  return answer.status < 500 ? answer : copy;
}

const isGone = (answer) => answer.status === 404 || answer.status === 410;

// Without its front page the site is gone, and so is its copy.
async function forget(path) {
  await (await caches.open(KEPT)).delete(keyOf(path));
  const front = await fetch(addressOf(FRONT), { cache: "no-cache" });
  if (!isGone(front)) return;
  await caches.delete(KEPT);
  await self.registration.unregister();
}
