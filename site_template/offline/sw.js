// Keeps a student's pages and films on the phone. FILES stands above: path -> [hash, bytes].
// Only what changed is fetched again; films come last, once a page has asked for them.
"use strict";

const SCOPE = self.registration.scope;
const KEPT = `lesson cards ${SCOPE}`;
const PATIENCE_MS = 2500;
const FILMS = Object.keys(FILES).filter((path) => path.startsWith("films/"));
const REST = Object.keys(FILES).filter((path) => !path.startsWith("films/"));

const addressOf = (path) => SCOPE + path.split("/").map(encodeURIComponent).join("/");
const keyOf = (path) => `${addressOf(path)}?${FILES[path][0]}`;

self.addEventListener("install", (event) => {
  event.waitUntil(Promise.all(REST.map(keep)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(dropOld().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  event.waitUntil(keepFilms().then(async () => event.source?.postMessage(await bytesKept())));
});

self.addEventListener("fetch", (event) => {
  const path = pathOf(event.request);
  if (path === null) return;
  event.respondWith(
    lasting(path) ? keptFirst(event.request, path) : freshFirst(event.request, path),
  );
});

async function keep(path) {
  const cache = await caches.open(KEPT);
  if (await cache.match(keyOf(path))) return;
  const answer = await fetch(addressOf(path), { cache: "no-cache" });
  if (!answer.ok) throw new Error(`${answer.status} ${path}`);
  // A copy of its own: a browser opens no page from an answer that was led elsewhere.
  const type = answer.headers.get("Content-Type") ?? "";
  await cache.put(
    keyOf(path),
    new Response(await answer.blob(), { headers: { "Content-Type": type } }),
  );
}

// One after the other, so that nothing else has to wait; the next visit goes on where this ends.
async function keepFilms() {
  if (navigator.connection?.saveData) return;
  try {
    for (const path of FILMS) await keep(path);
  } catch {
    // no room or no signal: the pages are kept all the same
  }
}

async function dropOld() {
  const cache = await caches.open(KEPT);
  const wanted = new Set(Object.keys(FILES).map(keyOf));
  for (const request of await cache.keys())
    if (!wanted.has(request.url)) await cache.delete(request);
}

async function bytesKept() {
  const cache = await caches.open(KEPT);
  const urls = new Set((await cache.keys()).map((request) => request.url));
  const here = Object.keys(FILES).filter((path) => urls.has(keyOf(path)));
  return {
    bytes: here.reduce((sum, path) => sum + FILES[path][1], 0),
    films: FILMS.every((path) => here.includes(path)),
  };
}

// A part of a file, another folder, a strange address: none of our business.
function pathOf(request) {
  const url = new URL(request.url);
  const address = url.origin + url.pathname;
  if (request.method !== "GET" || request.headers.has("range") || !address.startsWith(SCOPE))
    return null;
  const path = decodeURIComponent(address.slice(SCOPE.length)) || "index.html";
  return [path, `${path}.html`].find((known) => known in FILES) ?? null;
}

const lasting = (path) => path.startsWith("films/") || path.endsWith(".woff2");
const kept = async (path) => (await caches.open(KEPT)).match(keyOf(path));

async function keptFirst(request, path) {
  return (await kept(path)) ?? fetch(request);
}

// What was taken down is gone here too; what cannot be reached in good time is shown as kept.
async function freshFirst(request, path) {
  const copy = await kept(path);
  if (!copy) return fetch(request);
  const late = new Promise((done) => setTimeout(done, PATIENCE_MS, copy));
  const fresh = fetch(request, { cache: "no-cache" }).then(
    (answer) => answered(answer, copy),
    () => copy,
  );
  return Promise.race([fresh, late]);
}

async function answered(answer, copy) {
  if (isGone(answer)) await emptyIfGone();
  return answer.status < 500 ? answer : copy;
}

const isGone = (answer) => answer.status === 404 || answer.status === 410;

// One page may be missing by a slip; without its front page the site is gone, and so is its copy.
async function emptyIfGone() {
  const front = await fetch(addressOf("index.html"), { cache: "no-cache" });
  if (!isGone(front)) return;
  await caches.delete(KEPT);
  await self.registration.unregister();
}
