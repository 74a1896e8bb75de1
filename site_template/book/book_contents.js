// The contents on a narrow screen, opened and closed by a key of the keyboard too.
"use strict";

(() => {
  const key = document.querySelector(".book-contents");
  const drawer = document.querySelector("#__drawer");

  key.addEventListener("click", () => drawer.click());
  drawer.addEventListener("change", () =>
    key.setAttribute("aria-expanded", String(drawer.checked)),
  );
  document.addEventListener("keydown", (press) => {
    if (press.key !== "Escape" || !drawer.checked) return;
    drawer.click();
    key.focus();
  });
})();
