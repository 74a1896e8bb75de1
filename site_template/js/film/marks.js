// Marks: what the coach drew on the picture, shown or put away, and the names under the ruler.

// `from` is where the picture's corner lies on the canvas and how many times as large it is;
// nothing is drawn outside of `room`, which begins at its first number and is so wide and high.
export function strokeMarks(figure, brush, from, room) {
  const canvas = brush.canvas;
  brush.save();
  brush.beginPath();
  brush.rect(room[0], 0, room[1], room[2]);
  brush.clip();
  brush.setTransform(from.times, 0, 0, from.times, from.x, from.y);
  brush.strokeStyle = getComputedStyle(figure).getPropertyValue("--sheet");
  brush.lineWidth = (2.5 * canvas.width) / canvas.clientWidth / from.times;
  for (const mark of figure.querySelectorAll(".film-drawn:not([hidden]) path")) {
    brush.stroke(new Path2D(mark.getAttribute("d")));
  }
  brush.restore();
}

export function turnMarks({ figure, key }) {
  const shown = key("mark").getAttribute("aria-pressed") !== "true";
  key("mark").setAttribute("aria-pressed", String(shown));
  figure.querySelector(".film-drawn").toggleAttribute("hidden", !shown);
}

// Each name under its place; one that would run into another goes a row further down.
export function layNames({ hand, last }) {
  const track = hand.querySelector(".film-track");
  const under = hand.querySelector(".film-under");
  new ResizeObserver(lay).observe(track);

  function lay() {
    const ruler = track.querySelector("svg").getBoundingClientRect();
    const room = track.getBoundingClientRect();
    const ends = []; // how far each row is taken
    for (const name of under.children) {
      const middle = ruler.left - room.left + (ruler.width * name.dataset.at) / last;
      const furthest = Math.max(0, room.width - name.offsetWidth);
      const left = Math.min(furthest, Math.max(0, middle - name.offsetWidth / 2));
      const free = ends.findIndex((end) => end <= left);
      const row = free < 0 ? ends.length : free;
      ends[row] = left + name.offsetWidth;
      name.style.setProperty("--left", `${left}px`);
      name.style.setProperty("--row", row);
    }
    under.style.setProperty("--rows", ends.length);
  }
}
