// Places in a clip's picture, tapped or drawn with one finger, in shares of the picture.
import { say } from "./facts.js";

const SVG = "http://www.w3.org/2000/svg";
const LEAST = 0.012; // a smaller box was a slip of the finger
const STEP = 0.01; // of an arrow key
const HIGHEST = 0.999; // so that a box never ends outside, however it is rounded

export const isBox = (tool) => ["follow", "face", "blur", "crop"].includes(tool);

const inside = (share) => Math.min(Math.max(share, 0), HIGHEST);

export const rounded = (share) => Math.round(share * 1000) / 1000;

// What a finger drew from one place to another; null for what is too small to be meant.
export function drawn(tool, from, to, shape) {
  const [x0, y0, x1, y1] = [...from, ...to].map((share) => rounded(inside(share)));
  if (tool === "ball") return [x1, y1];
  const [wide, high] = [Math.abs(x1 - x0), Math.abs(y1 - y0)];
  if (Math.max(wide, high) < LEAST) return null;
  if (tool === "line") return [x0, y0, x1, y1];
  if (tool === "ring") return [x0, y0, rounded(Math.min(Math.hypot(wide, high / shape), HIGHEST))];
  if (Math.min(wide, high) < LEAST) return null;
  return [Math.min(x0, x1), Math.min(y0, y1), wide, high].map(rounded);
}

// Where a tool begins without a finger.
export const inTheMiddle = (tool) =>
  ({ ball: [0.5, 0.8], line: [0.5, 0.3, 0.5, 0.7], ring: [0.5, 0.25, 0.08] })[tool] ?? [
    0.4, 0.3, 0.2, 0.15,
  ];

// The same place moved, or with ``grown`` made larger or smaller, by an arrow key.
export function nudged(tool, place, [dx, dy], grown) {
  const by = [dx * STEP, dy * STEP];
  if (tool === "ball") return moved(place, by, [0, 1]);
  if (tool === "ring") {
    if (!grown) return moved(place, by, [0, 1]);
    return [place[0], place[1], rounded(Math.max(place[2] + by[0] - by[1], LEAST))];
  }
  if (tool === "line") return moved(place, by, grown ? [2, 3] : [0, 1, 2, 3]);
  const [x, y, wide, high] = place;
  if (!grown)
    return [
      inside(Math.min(x + by[0], HIGHEST - wide)),
      inside(Math.min(y + by[1], HIGHEST - high)),
      wide,
      high,
    ].map(rounded);
  const room = [HIGHEST - x, HIGHEST - y];
  return [
    x,
    y,
    ...[wide + by[0], high + by[1]].map((side, n) => Math.min(Math.max(side, LEAST), room[n])),
  ].map(rounded);
}

const moved = (place, by, which) =>
  place.map((share, n) => (which.includes(n) ? rounded(inside(share + by[n % 2])) : share));

// Left and right swapped.
export function flipped(tool, place) {
  if (place === null) return null;
  const [x, ...rest] = place;
  if (tool === "line") return [rounded(1 - x), rest[0], rounded(1 - rest[1]), rest[2]];
  if (isBox(tool)) return [rounded(Math.max(1 - x - rest[1], 0)), ...rest];
  return [rounded(1 - x), ...rest];
}

// Every place as a shape over the picture; those of ``tool`` stand out.
export function draw(overlay, places, tool) {
  const { width, height } = overlay.viewBox.baseVal;
  const shapes = places.map(([kind, place]) => {
    const shape = shapeOf(kind, place, width, height);
    shape.setAttribute("class", kind === tool ? `place ${kind} held` : `place ${kind}`);
    return shape;
  });
  overlay.replaceChildren(...shapes);
}

function shapeOf(kind, place, width, height) {
  if (kind === "ball")
    return made("circle", { cx: place[0] * width, cy: place[1] * height, r: width * 0.02 });
  if (kind === "ring")
    return made("circle", { cx: place[0] * width, cy: place[1] * height, r: place[2] * width });
  if (kind === "line")
    return made("line", {
      x1: place[0] * width,
      y1: place[1] * height,
      x2: place[2] * width,
      y2: place[3] * height,
    });
  const [x, y, wide, high] = place;
  return made("rect", { x: x * width, y: y * height, width: wide * width, height: high * height });
}

function made(kind, traits) {
  const shape = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(traits)) shape.setAttribute(name, value.toFixed(1));
  return shape;
}

export const placeName = (tool) => say(`place.${tool}`);
