// Small helps on a card that is whole without them: a dot tells which shot it is.
"use strict";

(() => {
  const shotsLine = document.querySelector(".shots-line");
  if (shotsLine) for (const chart of document.querySelectorAll("svg.chart")) tellShots(chart);
  for (const part of document.querySelectorAll("[data-share]")) offerToSend(part);
  for (const list of document.querySelectorAll("[data-plan]")) takeTicks(list);
  if (document.querySelector("[rel=apple-touch-icon]")) keepOnThePhone();

  // The dots in the order of the shots; a tap near one finds it, the two keys walk them. Charts
  // in the folds get their line from here.
  function tellShots(chart) {
    const dots = [...chart.querySelectorAll("[data-shot]")];
    if (dots.length === 0) return;
    const line =
      chart.closest("figure").querySelector(".shots-line") ??
      chart.insertAdjacentElement("afterend", shotsLine.cloneNode(true));
    const told = line.querySelector("span");
    const film = line.querySelector("a");
    let at = -1;

    line.hidden = false;
    chart.addEventListener("click", onTap);
    for (const key of line.querySelectorAll("button")) {
      key.addEventListener("click", () => {
        const from = at < 0 && key.dataset.step < 0 ? 0 : at;
        show((from + Number(key.dataset.step) + dots.length) % dots.length);
      });
    }
    film.addEventListener("click", onFilm);

    function onTap(tap) {
      const away = dots.map((dot) => {
        const place = dot.getBoundingClientRect();
        return Math.hypot(
          tap.clientX - place.left - place.width / 2,
          tap.clientY - place.top - place.height / 2,
        );
      });
      const nearest = Math.min(...away);
      if (nearest <= 22) show(away.indexOf(nearest));
    }

    function show(which) {
      if (at >= 0) delete dots[at].dataset.chosen;
      at = which;
      dots[at].dataset.chosen = "";
      told.textContent = dots[at].dataset.shot;
      film.hidden = !dots[at].dataset.clip;
      if (!film.hidden) film.href = `#${dots[at].dataset.clip}`;
    }

    // To the film itself, with its ruler in hand where there is one.
    function onFilm(press) {
      const take = document.querySelector(film.hash);
      press.preventDefault();
      take.scrollIntoView();
      (
        take.querySelector(".film-hand:not([hidden]) .film-track") ?? take.querySelector("video")
      ).focus({
        preventScroll: true,
      });
    }
  }

  // The circles of a plan, ticked by a finger and kept in this browser alone. Where nothing can be
  // kept they stay circles for a pencil.
  function takeTicks(list) {
    const key = `ticks ${location.pathname.replace(/[^/]*$/, "")}${list.dataset.plan}`;
    const circles = [...list.querySelectorAll("i")];
    let ticked;
    try {
      ticked = new Set(JSON.parse(localStorage.getItem(key) || "[]"));
      localStorage.setItem(key, JSON.stringify([...ticked]));
    } catch {
      return;
    }
    list.previousElementSibling.hidden = false;
    circles.forEach((circle, place) => {
      const button = document.createElement("button");
      button.type = "button";
      button.setAttribute("aria-label", circle.dataset.say);
      button.setAttribute("aria-pressed", String(ticked.has(place)));
      circle.replaceWith(button);
      button.append(circle);
      button.addEventListener("click", () => {
        if (!ticked.delete(place)) ticked.add(place);
        button.setAttribute("aria-pressed", String(ticked.has(place)));
        localStorage.setItem(key, JSON.stringify([...ticked]));
      });
    });
  }

  // The phone's own way of sending, where it has one; the link alone, never what stands here.
  function offerToSend(part) {
    if (!navigator.share || !location.protocol.startsWith("http")) return;
    part.hidden = false;
    part.querySelector("button").addEventListener("click", async () => {
      try {
        await navigator.share({ title: part.dataset.share, url: location.href.split("#")[0] });
      } catch {
        // not sent after all
      }
    });
  }

  // Pages for where there is no signal: the one that was opened, and all where that is wished.
  // Browsers allow it over https alone, and those inside other apps not even there.
  function keepOnThePhone() {
    if (!location.protocol.startsWith("http") || !isSecureContext) return;
    if (!navigator.serviceWorker) {
      document.querySelector("[data-unkept]").hidden = false;
      return;
    }
    navigator.serviceWorker.addEventListener("message", ({ data }) => showKept(data));
    for (const wish of document.querySelectorAll("[data-wish]")) {
      wish.addEventListener("click", () => {
        wish.disabled = true;
        tellWorker({ wish: wish.dataset.wish });
      });
    }
    addEventListener("load", async () => {
      const manifest = document.createElement("link");
      manifest.rel = "manifest";
      manifest.href = "card.webmanifest";
      document.head.append(manifest);
      try {
        await navigator.serviceWorker.register("sw.js");
        const wish = document.querySelector("[data-keep-all]") ? "all" : "";
        await tellWorker({ keep: [location.href, ...filesHere()], wish });
      } catch {
        // a host without it: the pages work with a signal
      }
    });
  }

  async function tellWorker(told) {
    (await navigator.serviceWorker.ready).active.postMessage(told);
  }

  // What this page shows, but for its films.
  function filesHere() {
    const pictures = [...document.images].map((picture) => picture.src);
    const posters = [...document.querySelectorAll("video[poster]")].map((video) => video.poster);
    const loaded = performance.getEntriesByType("resource").map((one) => one.name);
    return [...pictures, ...posters, ...loaded].filter(Boolean); // a sealed picture has none yet
  }

  function showKept({ pages, films, kept }) {
    for (const part of document.querySelectorAll("[data-kept]")) {
      part.hidden = false;
      const told = part.querySelector("[role=status]");
      const all = kept.pages && kept.films;
      told.hidden = !kept.pages;
      told.textContent = (all ? part.dataset.kept : part.dataset.keptWords).replace(
        "%s",
        megabytes(all ? pages + films : pages),
      );
      offer(part.querySelector("[data-wish=all]"), pages, !kept.pages);
      offer(part.querySelector("[data-wish=films]"), films, kept.pages && !kept.films);
    }
  }

  function offer(wish, bytes, open) {
    wish.hidden = !open;
    wish.disabled = false;
    wish.textContent = wish.dataset.say.replace("%s", megabytes(bytes));
  }

  function megabytes(bytes) {
    return new Intl.NumberFormat(document.documentElement.lang, {
      style: "unit",
      unit: "megabyte",
      maximumFractionDigits: 1,
    }).format(bytes / 1e6);
  }
})();
