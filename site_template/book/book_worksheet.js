// The worksheet of a finished lesson, where the program that shows the book can have it made.
"use strict";

(() => {
  const LOOK_EVERY_MS = 250;
  const OPEN_AT = "../open";

  const there = async (page) => (await fetch(page, { method: "HEAD", cache: "no-store" })).ok;

  const pageOf = async (lesson) => {
    const answer = await fetch(OPEN_AT, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ lesson }),
    });
    if (!answer.ok) throw new Error(answer.status);
    return (await answer.json()).page;
  };

  const openIt = async (key) => {
    try {
      const page = await pageOf(key.dataset.sheet);
      while (!(await there(page))) await new Promise((next) => setTimeout(next, LOOK_EVERY_MS));
      location.assign(page);
    } catch {
      key.textContent = key.dataset.failed;
      key.disabled = false;
    }
  };

  for (const shown of document.querySelectorAll(".book-open")) {
    const key = shown.querySelector("button");
    shown.hidden = !location.protocol.startsWith("http");
    key.addEventListener("click", () => {
      key.disabled = true;
      key.textContent = key.dataset.busy;
      openIt(key);
    });
  }
})();
