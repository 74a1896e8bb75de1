// The worksheet of a finished lesson, where the program that shows the book can have it made.
"use strict";

(() => {
  const LOOK_EVERY_MS = 250;
  const OPEN_AT = "../open";
  const AWAITED = "worksheet awaited"; // a build that ends meanwhile loads the page anew

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

  const openIt = async (key, known) => {
    const lesson = key.dataset.sheet;
    key.disabled = true;
    key.textContent = key.dataset.busy;
    try {
      const page = known ?? (await pageOf(lesson));
      sessionStorage.setItem(AWAITED, JSON.stringify({ lesson, page }));
      while (!(await there(page))) await new Promise((next) => setTimeout(next, LOOK_EVERY_MS));
      sessionStorage.removeItem(AWAITED);
      location.assign(page);
    } catch {
      sessionStorage.removeItem(AWAITED);
      key.textContent = key.dataset.failed;
      key.disabled = false;
    }
  };

  const goOnWaiting = (key) => {
    const { lesson, page } = JSON.parse(sessionStorage.getItem(AWAITED)) ?? {};
    if (lesson !== key.dataset.sheet) return;
    key.closest("details").open = true;
    openIt(key, page);
  };

  for (const shown of document.querySelectorAll(".book-open")) {
    const key = shown.querySelector("button");
    shown.hidden = !location.protocol.startsWith("http");
    if (shown.hidden) continue;
    key.addEventListener("click", () => openIt(key));
    goOnWaiting(key);
  }
})();
