// For somebody who asks: the lessons nearest to what is chosen come first, and say why.
"use strict";

(() => {
  const page = document.querySelector("[data-asked]");
  const form = page?.querySelector(".book-choose");
  if (!form) return;
  const said = JSON.parse(page.querySelector("[data-said]").dataset.said);
  const nearest = page.querySelector(".book-nearest");
  const lists = [...page.querySelectorAll(".book-examples")].map((list) => ({
    list,
    lines: [...list.children],
  }));
  // A miss in common says most; then the very club, one of its kind, the age and the hand.
  const weights = { miss: 8, club: 4, kind: 2, age: 1, hand: 1 };

  const chosen = () => {
    const wanted = {};
    for (const field of form.querySelectorAll("select")) {
      if (field.value) wanted[field.name] = field.value;
    }
    return wanted;
  };
  const inCommon = (line, wanted) => {
    const shared = Object.keys(wanted).filter((kind) => line.dataset[kind] === wanted[kind]);
    const other = wanted.club && !shared.includes("club");
    if (other && line.dataset.kind && line.dataset.kind === wanted.club.split(" ").pop())
      shared.push("kind");
    return shared;
  };
  const sort = () => {
    const wanted = chosen();
    const any = Object.keys(wanted).length > 0;
    let near = 0;
    for (const { list, lines } of lists) {
      const ranked = lines.map((line) => {
        const shared = inCommon(line, wanted);
        const why = line.querySelector(".book-why");
        why.hidden = !any;
        why.textContent = shared.length
          ? shared.map((kind) => said[kind]).join(" · ")
          : said.nothing;
        near += shared.length > 0;
        return { line, near: shared.reduce((sum, kind) => sum + weights[kind], 0) };
      });
      ranked.sort((one, other) => other.near - one.near);
      list.replaceChildren(...ranked.map(({ line }) => line));
    }
    nearest.textContent = !any ? "" : near ? said.near.replace("%s", near) : said.none;
  };

  form.hidden = false;
  form.addEventListener("change", sort);
  form.addEventListener("submit", (press) => press.preventDefault());
  sort();
})();
