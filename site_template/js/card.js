// Small helps on a card that is whole without them: a dot tells which shot it is.
"use strict";

(() => {
  for (const line of document.querySelectorAll(".shots-line")) tellShots(line);

  // The dots in the order of the shots; a tap near one finds it, the two keys walk them.
  function tellShots(line) {
    const chart = line.closest("figure").querySelector("svg.chart");
    const dots = [...chart.querySelectorAll("[data-shot]")];
    if (dots.length === 0) return;
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
    function onFilm() {
      const track = document.querySelector(`${film.hash} .film-track`);
      track?.focus({ preventScroll: true });
    }
  }
})();
