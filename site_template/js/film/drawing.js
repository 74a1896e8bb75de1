// Drawing: which sides are in view, and the same part of each drawn larger.
import { strokeMarks } from "./marks.js";

const CLOSER = 2.2;

export function pictureOf({ figure, video, hand, say }) {
  const closer = figure.querySelector(".film-closer");
  const room = figure.querySelector(".film-room");
  const pairWide = Number(room.getAttribute("width"));
  const hint = hand.querySelector(".film-hint");
  const spot = { x: 0.5, y: 0.5 }; // what closer looks at, in shares of each side

  closer.addEventListener("click", lookAt);
  for (const side of figure.querySelectorAll("button[data-alone]")) takeAlone(side);

  // Gives whether the part is drawn from now on.
  function turnCloser() {
    closer.hidden = !closer.hidden;
    hint.textContent = closer.hidden ? "" : hint.dataset.say;
    draw();
    return !closer.hidden;
  }

  // One video cannot be cut out in two places, so both are drawn: the same part of each side.
  function draw() {
    if (closer.hidden || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) return;
    const sides = sidesInView();
    const wide = video.videoWidth / Number(say.sides);
    const high = video.videoHeight;
    closer.width = wide * sides.length;
    closer.height = high;
    const brush = closer.getContext("2d");
    sides.forEach((side, place) => {
      const left = side * wide + cutFrom(spot.x) * wide;
      const top = cutFrom(spot.y) * high;
      const [across, down] = [wide / CLOSER, high / CLOSER];
      brush.drawImage(video, left, top, across, down, place * wide, 0, wide, high);
      const from = { x: place * wide - left * CLOSER, y: -top * CLOSER, times: CLOSER };
      strokeMarks(figure, brush, from, [place * wide, wide, high]);
    });
  }

  function sidesInView() {
    if (say.only) return [say.only === "now" ? 1 : 0];
    return say.sides === "2" ? [0, 1] : [0];
  }

  // Where the part that is cut out begins, so that none of it lies outside.
  function cutFrom(middle) {
    return Math.min(1 - 1 / CLOSER, Math.max(0, middle - 0.5 / CLOSER));
  }

  function lookAt(tap) {
    const box = closer.getBoundingClientRect();
    const sides = sidesInView().length;
    const across = (((tap.clientX - box.left) / box.width) * sides) % 1;
    const down = (tap.clientY - box.top) / box.height;
    move(cutFrom(spot.x) + across / CLOSER - spot.x, cutFrom(spot.y) + down / CLOSER - spot.y);
  }

  function move(right, down) {
    const within = (share) => Math.min(1 - 0.5 / CLOSER, Math.max(0.5 / CLOSER, share));
    spot.x = within(spot.x + right);
    spot.y = within(spot.y + down);
    draw();
  }

  // One side as wide as the whole picture was; the same side again brings both back.
  function takeAlone(side) {
    side.disabled = false;
    side.addEventListener("click", () => {
      const alone = say.only === side.dataset.alone ? "" : side.dataset.alone;
      if (alone) say.only = alone;
      else delete say.only;
      room.setAttribute("width", String(alone ? pairWide / 2 : pairWide));
      for (const other of figure.querySelectorAll("button[data-alone]")) {
        other.setAttribute("aria-pressed", String(other.dataset.alone === alone));
      }
      draw();
    });
  }

  return { draw, turnCloser, move, isCloser: () => !closer.hidden };
}
