// Marks: what the coach drew on the picture, shown or put away.

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
