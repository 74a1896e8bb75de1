// The site that stood here was taken down: what this phone kept of it goes, and then this worker.
// At once, since the worker before this one may stay for minutes, and again when that has gone.
"use strict";

self.addEventListener("install", (event) => {
  event.waitUntil(drop().finally(() => self.skipWaiting()));
  leave(); // not waited for: a browser does it when this is through
});

self.addEventListener("activate", (event) => {
  event.waitUntil(drop().then(leave));
});

const drop = () => caches.delete(`lesson cards ${self.registration.scope}`);
const leave = () => self.registration.unregister();
