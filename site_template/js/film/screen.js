// The screen: the film as large as there is room, and full screen by a key.

// The picture leaves room for its keys: how high they are is measured, since words differ.
export function fitKeys({ figure, hand }) {
  new ResizeObserver(() => {
    figure.style.setProperty("--under", `${hand.offsetHeight}px`);
  }).observe(hand);
}

// Phones that give no page the whole screen give it the whole window.
export function fullScreenOf({ figure, key }) {
  figure.ownerDocument.addEventListener("fullscreenchange", () => {
    if (document.fullscreenElement === null && figure.requestFullscreen) set(false);
  });

  function set(full) {
    figure.toggleAttribute("data-full", full);
    key("full").setAttribute("aria-pressed", String(full));
  }

  async function turn() {
    const full = !figure.hasAttribute("data-full");
    set(full);
    try {
      if (full) await figure.requestFullscreen?.();
      else if (document.fullscreenElement) await document.exitFullscreen();
    } catch {
      // refused: the window will do
    }
  }

  return { turn, isFull: () => figure.hasAttribute("data-full") };
}
