// The site that stood here was taken down: what this phone kept of it goes, and then this worker.
"use strict";

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(empty());
});

async function empty() {
  await caches.delete(`lesson cards ${self.registration.scope}`);
  await self.registration.unregister();
}
