// The past lessons, fewer of them: those like the reader's own. Without this the list is whole.
"use strict";

(() => {
  const form = document.querySelector("[data-cases]");
  if (!form) return;
  const entries = [...document.querySelectorAll("[data-case]")];
  const said = form.querySelector("[role=status]");

  const sift = () => {
    const wanted = [...form.querySelectorAll("select")].filter((field) => field.value);
    let shown = 0;
    for (const entry of entries) {
      entry.hidden = !wanted.every((field) => entry.dataset[field.name] === field.value);
      shown += !entry.hidden;
    }
    const told = shown ? form.dataset.shown : form.dataset.nothing;
    said.textContent = wanted.length ? told.replace("%1", shown).replace("%2", entries.length) : "";
  };

  form.hidden = false;
  form.addEventListener("change", sift);
  form.addEventListener("submit", (press) => press.preventDefault());
  sift(); // what was chosen before a reload
})();
