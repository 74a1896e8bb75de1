// For each movement of a pointer on a film's ruler: how long until its picture was presented.
// A picture that was asked for and passed over, because the pointer was already further on,
// counts until that of a later movement is there.
"use strict";

window.filmWatch = (() => {
  const film = document.querySelector(".film");
  const video = film.querySelector("video");
  const track = film.querySelector(".film-track");
  const fps = Number(film.dataset.fps);
  const took = [];
  let asked = [];
  let last = null;

  addEventListener("pointermove", (move) => {
    const frame = Number(track.getAttribute("aria-valuenow"));
    if (frame !== last) asked.push({ frame, at: move.timeStamp });
    last = frame;
  });

  function presented(_, picture) {
    const frame = Math.floor(picture.mediaTime * fps + 0.25); // its beginning, or the time sought
    const which = asked.map((one) => one.frame).lastIndexOf(frame);
    const now = performance.now();
    for (const one of asked.slice(0, which + 1)) {
      took.push({ ms: now - one.at, exact: one.frame === frame });
    }
    asked = asked.slice(which + 1);
    video.requestVideoFrameCallback(presented);
  }
  video.requestVideoFrameCallback(presented);

  return { told: () => ({ took: took.splice(0), missing: asked.splice(0).length }) };
})();
