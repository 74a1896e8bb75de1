// Search in the coach's book: every word asked for must begin a word of the page.
// The index is a script beside the pages, fetched at the first question, so this works from disk.
(() => {
  "use strict";
  const MOST = 12;
  const AROUND = 60;
  const asked = document.getElementById("book-search");
  const found = document.getElementById("book-found");
  const said = document.querySelector(".book-said");
  if (!asked || !found || !said) return;

  let entries = null;
  let chosen = -1;

  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const begins = (text, word) => {
    let at = text.indexOf(word);
    while (at > 0 && /[\p{L}\p{N}]/u.test(text[at - 1])) at = text.indexOf(word, at + 1);
    return at;
  };

  const load = () =>
    new Promise((ready) => {
      if (entries) return ready();
      const script = document.createElement("script");
      script.src = asked.dataset.index;
      script.onload = () => {
        entries = window.bookIndex.map(([path, title, section, text]) => ({
          path,
          title,
          section,
          text,
          plainTitle: plain(title),
          plainSection: plain(section),
          plainText: plain(text),
        }));
        ready();
      };
      document.head.append(script);
    });

  const rank = (entry, wanted) => {
    let score = 0;
    for (const word of wanted) {
      if (begins(entry.plainTitle, word) >= 0) score += 9;
      else if (begins(entry.plainSection, word) >= 0) score += 4;
      else if (begins(entry.plainText, word) >= 0) score += 1;
      else return 0;
    }
    return score;
  };

  const extract = (entry, wanted) => {
    const at = Math.max(0, ...wanted.map((word) => begins(entry.plainText, word)));
    const start = Math.max(0, at - AROUND);
    const cut = entry.text.slice(start, at + AROUND * 2).trim();
    return (start > 0 ? "… " : "") + cut + (at + AROUND * 2 < entry.text.length ? " …" : "");
  };

  const line = (tag, name, text) => {
    const element = document.createElement(tag);
    element.className = name;
    element.textContent = text;
    return element;
  };

  const result = (entry, wanted, index) => {
    const item = document.createElement("li");
    item.id = `book-found-${index}`;
    item.setAttribute("role", "option");
    item.setAttribute("aria-selected", "false");
    const link = document.createElement("a");
    const base = asked.dataset.base;
    link.href = (base ? `${base}/` : "") + entry.path;
    link.tabIndex = -1;
    const name =
      entry.section && entry.section !== entry.title
        ? `${entry.section} · ${entry.title}`
        : entry.title;
    link.append(
      line("span", "book-title", name),
      line("span", "book-extract", extract(entry, wanted)),
    );
    item.append(link);
    return item;
  };

  const choose = (index) => {
    const items = [...found.children];
    items[chosen]?.setAttribute("aria-selected", "false");
    chosen = items.length ? (index + items.length) % items.length : -1;
    if (chosen < 0) return asked.removeAttribute("aria-activedescendant");
    items[chosen].setAttribute("aria-selected", "true");
    items[chosen].scrollIntoView({ block: "nearest" });
    asked.setAttribute("aria-activedescendant", items[chosen].id);
  };

  const close = () => {
    found.hidden = true;
    chosen = -1;
    said.textContent = "";
    asked.setAttribute("aria-expanded", "false");
    asked.removeAttribute("aria-activedescendant");
  };

  const search = async () => {
    await load();
    const wanted = plain(asked.value)
      .split(/[^\p{L}\p{N}.]+/u)
      .filter(Boolean);
    if (!wanted.length) return close();
    const ranked = entries
      .map((entry) => ({ entry, score: rank(entry, wanted) }))
      .filter(({ score }) => score > 0)
      .sort((a, b) => b.score - a.score);
    chosen = -1;
    asked.removeAttribute("aria-activedescendant");
    found.replaceChildren(
      ...ranked.slice(0, MOST).map(({ entry }, index) => result(entry, wanted, index)),
    );
    found.hidden = ranked.length === 0;
    asked.setAttribute("aria-expanded", String(ranked.length > 0));
    said.textContent =
      ranked.length === 0 ? asked.dataset.none : ranked.length > MOST ? asked.dataset.more : "";
  };

  asked.addEventListener("focus", load);
  asked.addEventListener("input", search);
  asked.addEventListener("keydown", (event) => {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (!found.hidden)
        choose(
          chosen < 0 && event.key === "ArrowUp"
            ? -1
            : chosen + (event.key === "ArrowDown" ? 1 : -1),
        );
    } else if (event.key === "Enter") {
      const item = found.children[Math.max(chosen, 0)];
      if (!found.hidden && item) item.firstElementChild.click();
    } else if (event.key === "Escape") {
      asked.value = "";
      close();
    }
  });
  document.addEventListener("keydown", (event) => {
    const typing =
      event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement;
    if (event.key === "/" && !typing && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      asked.focus();
    }
  });
  document.addEventListener("click", (event) => {
    if (!event.target.closest(".book-search")) close();
  });
})();
