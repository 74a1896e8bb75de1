// Takes each film in hand: drag along the ruler, step, play, slow. Nothing loads until asked.
// The files beside this one are joined into one script when a site is staged.
import { pictureOf } from "./drawing.js";
import { takeKeys } from "./keys.js";
import { layNames } from "./marks.js";
import { fitKeys } from "./screen.js";
import { rulerOf, timeOf } from "./time.js";

for (const figure of document.querySelectorAll("[data-film]")) takeInHand(figure);

function takeInHand(figure) {
  const hand = figure.querySelector(".film-hand");
  const film = {
    figure,
    hand,
    video: figure.querySelector("video"),
    say: figure.dataset,
    fps: Number(figure.dataset.fps),
    last: Number(figure.dataset.frames) - 1,
    strike: Number(figure.dataset.impact),
    key: (name) => hand.querySelector(`[data-do="${name}"]`),
  };
  film.video.controls = false;
  hand.hidden = false;
  layNames(film);
  fitKeys(film);
  const picture = pictureOf(film);
  const time = timeOf(film, rulerOf(film), picture);
  takeKeys(film, time, picture);
}
