// A message beside its lesson: copied, or handed to whatever the coach sends messages with.
"use strict";

(() => {
  const copied = async (field) => {
    try {
      await navigator.clipboard.writeText(field.value);
    } catch {
      field.focus(); // from disk some browsers let nobody write there but by this old way
      field.select();
      return document.execCommand("copy");
    }
    return true;
  };

  for (const message of document.querySelectorAll(".book-message")) {
    const field = message.querySelector("textarea");
    if (!field) continue;
    const share = message.querySelector("[data-key=share]");
    const told = { title: field.dataset.subject, text: field.value };

    message.querySelector("[data-key=copy]").addEventListener("click", async (press) => {
      const done = await copied(field);
      message.querySelector("[role=status]").textContent = done
        ? press.currentTarget?.dataset.done || press.target.dataset.done
        : "";
    });
    if (navigator.canShare?.(told)) {
      share.hidden = false;
      share.addEventListener("click", () => navigator.share(told).catch(() => {}));
    }
  }
})();
