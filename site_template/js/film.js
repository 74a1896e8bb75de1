// Takes each film in hand: drag along the ruler, step, play, slow. Nothing loads until asked.
"use strict";

(() => {
  const SLOW = 0.25;
  const PATIENCE_MS = 250;
  const TRIES = 5;
  const CLOSER = 2.2;
  const NUDGE = 0.04;

  for (const figure of document.querySelectorAll("[data-film]")) takeInHand(figure);

  function takeInHand(figure) {
    const video = figure.querySelector("video");
    const hand = figure.querySelector(".film-hand");
    const track = hand.querySelector(".film-track");
    const when = hand.querySelector(".film-when");
    const closer = figure.querySelector(".film-closer");
    const hint = hand.querySelector(".film-hint");
    const key = (name) => hand.querySelector(`[data-do="${name}"]`);
    const say = figure.dataset;
    const fps = Number(say.fps);
    const last = Number(say.frames) - 1;
    const strike = Number(say.impact);
    const seconds = new Intl.NumberFormat(document.documentElement.lang || undefined, {
      minimumFractionDigits: 2,
      maximumFractionDigits: 2,
    });

    let at = strike; // the frame that is shown, or on its way
    let wanted = null; // the frame to seek to as soon as the last seek is done
    let loading = null; // a promise, once somebody has asked
    let begun = false; // has it ever played or been moved?
    let painted = null; // the frame that the browser says is on the screen
    let overdue = 0; // a timer for a frame that is late
    let tries = 0; // how often it may still be asked for
    const spot = { x: 0.5, y: 0.5 }; // what closer looks at, in shares of each side

    video.controls = false;
    hand.hidden = false;
    hand.style.setProperty("--strike", strike / last);
    if (strike < last / 2) say.early = "";
    show();
    watchPaint();

    key("play").addEventListener("click", () => (video.paused ? play() : rest()));
    key("back").addEventListener("click", () => moveTo(at - 1));
    key("on").addEventListener("click", () => moveTo(at + 1));
    key("strike").addEventListener("click", () => moveTo(strike));
    key("slow").addEventListener("click", changeSpeed);
    key("mark")?.addEventListener("click", showMark);
    key("closer").addEventListener("click", goCloser);
    closer.addEventListener("click", lookAt);
    for (const side of figure.querySelectorAll("button[data-alone]")) takeAlone(side);
    for (const stop of figure.querySelectorAll("button[data-frame]")) takeStop(stop);
    figure.addEventListener("keydown", onKey);
    track.addEventListener("pointerdown", onGrab);
    video.addEventListener("click", () => (video.paused ? play() : rest()));
    video.addEventListener("seeked", onSeeked);
    video.addEventListener("play", onPlay);
    video.addEventListener("pause", onPause);
    video.addEventListener("waiting", onWaiting);

    // Servers that cannot send a part of a file leave a video that cannot be moved in: over
    // http the whole film is fetched. From disk the browser reads it in place.
    function load() {
      loading ??= (async () => {
        figure.setAttribute("aria-busy", "true");
        try {
          if (location.protocol.startsWith("http")) {
            const answer = await fetch(video.src);
            if (!answer.ok) throw new Error(answer.statusText);
            video.src = URL.createObjectURL(await answer.blob());
          }
          video.preload = "auto";
          video.load();
          await new Promise((loaded, failed) => {
            video.addEventListener("loadeddata", loaded, { once: true });
            video.addEventListener("error", failed, { once: true });
          });
          return true;
        } catch {
          hand.hidden = true;
          video.controls = true;
          return false;
        } finally {
          figure.removeAttribute("aria-busy");
        }
      })();
      return loading;
    }

    async function moveTo(frame) {
      begun = true;
      video.pause();
      at = Math.min(last, Math.max(0, frame));
      wanted = at;
      tries = TRIES;
      delete say.shown;
      show();
      if (await load()) seekNext();
    }

    // To the middle of a frame: its very start may still show the one before.
    function seekNext() {
      if (wanted === null || video.seeking || video.readyState < HTMLMediaElement.HAVE_METADATA) {
        return;
      }
      video.currentTime = (wanted + 0.5) / fps;
      wanted = null;
    }

    // Some browsers tell the time at which a frame begins, others the very time sought.
    function frameAt(seconds) {
      return Math.floor(seconds * fps + 0.25);
    }

    function watchPaint() {
      video.requestVideoFrameCallback?.((_, frame) => {
        painted = frameAt(frame.mediaTime);
        drawCloser();
        if (video.paused && wanted === null && painted === at) say.shown = at;
        watchPaint();
      });
    }

    function onSeeked() {
      clearTimeout(overdue);
      drawCloser();
      if (wanted !== null) seekNext();
      else if (video.paused) settle();
    }

    // A browser under load now and then finishes a seek without painting it: ask again,
    // for another instant of the same frame.
    function settle() {
      if (!video.requestVideoFrameCallback || painted === at) {
        say.shown = at;
      } else if (tries > 0) {
        tries -= 1;
        overdue = setTimeout(seekAgain, PATIENCE_MS);
      }
    }

    function seekAgain() {
      if (video.paused && !video.seeking && wanted === null && painted !== at) {
        video.currentTime = (at + 0.25 + 0.05 * tries) / fps;
      }
    }

    async function play() {
      const fromStart = !begun || at >= last;
      begun = true;
      if (!(await load())) return;
      if (fromStart) {
        at = 0;
        wanted = null;
        video.currentTime = 0;
      }
      video.playbackRate = isSlow() ? SLOW : 1;
      try {
        await video.play();
      } catch {
        // paused again before it could begin
      }
    }

    function rest() {
      moveTo(frameNow());
    }

    function frameNow() {
      return Math.min(last, Math.floor(video.currentTime * fps + 0.001));
    }

    function onPlay() {
      say.playing = "";
      delete say.shown;
      key("play").setAttribute("aria-label", key("play").dataset.pause);
      requestAnimationFrame(follow);
    }

    function onPause() {
      delete say.playing;
      key("play").setAttribute("aria-label", key("play").dataset.play);
      if (video.ended) {
        at = last;
        show();
      }
    }

    // A browser short of time may wait many seconds for more of a film it has the whole of; a
    // seek to where it is starts it again.
    function onWaiting() {
      clearTimeout(overdue);
      overdue = setTimeout(() => {
        const stuck = video.readyState < HTMLMediaElement.HAVE_FUTURE_DATA;
        if (stuck && !video.paused && !video.seeking) video.currentTime += 0;
      }, PATIENCE_MS);
    }

    function follow() {
      if (video.paused) return;
      at = frameNow();
      show();
      requestAnimationFrame(follow);
    }

    function isSlow() {
      return key("slow").getAttribute("aria-pressed") === "true";
    }

    function changeSpeed() {
      key("slow").setAttribute("aria-pressed", String(!isSlow()));
      video.playbackRate = isSlow() ? SLOW : 1;
    }

    function showMark() {
      const shown = key("mark").getAttribute("aria-pressed") !== "true";
      key("mark").setAttribute("aria-pressed", String(shown));
      figure.querySelector(".film-drawn").toggleAttribute("hidden", !shown);
      drawCloser();
    }

    function goCloser() {
      const near = key("closer").getAttribute("aria-pressed") !== "true";
      key("closer").setAttribute("aria-pressed", String(near));
      closer.hidden = !near;
      hint.textContent = near ? hint.dataset.say : "";
      if (near && video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) moveTo(at);
      else drawCloser();
    }

    // One video cannot be cut out in two places, so both are drawn: the same part of each side.
    function drawCloser() {
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
        drawMarks(brush, place * wide - left * CLOSER, -top * CLOSER, [place * wide, wide, high]);
      });
    }

    function drawMarks(brush, x, y, [from, wide, high]) {
      brush.save();
      brush.beginPath();
      brush.rect(from, 0, wide, high);
      brush.clip();
      brush.setTransform(CLOSER, 0, 0, CLOSER, x, y);
      brush.strokeStyle = getComputedStyle(figure).getPropertyValue("--sheet");
      brush.lineWidth = (2.5 * closer.width) / closer.clientWidth / CLOSER;
      for (const mark of figure.querySelectorAll(".film-drawn:not([hidden]) path")) {
        brush.stroke(new Path2D(mark.getAttribute("d")));
      }
      brush.restore();
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
      drawCloser();
    }

    // One side as wide as the whole picture was; the same side again brings both back.
    function takeAlone(side) {
      side.disabled = false;
      side.addEventListener("click", () => {
        const alone = say.only === side.dataset.alone ? "" : side.dataset.alone;
        if (alone) say.only = alone;
        else delete say.only;
        for (const other of figure.querySelectorAll("button[data-alone]")) {
          other.setAttribute("aria-pressed", String(other.dataset.alone === alone));
        }
        drawCloser();
      });
    }

    function takeStop(stop) {
      stop.disabled = false;
      stop.addEventListener("click", () => moveTo(Number(stop.dataset.frame)));
    }

    function onGrab(grab) {
      if (grab.button !== 0) return;
      track.setPointerCapture(grab.pointerId);
      const drag = (pointer) => {
        const ruler = track.querySelector("svg").getBoundingClientRect();
        moveTo(Math.round(((pointer.clientX - ruler.left) / ruler.width) * last));
      };
      const letGo = () => {
        track.removeEventListener("pointermove", drag);
        track.removeEventListener("lostpointercapture", letGo);
      };
      track.addEventListener("pointermove", drag);
      track.addEventListener("lostpointercapture", letGo);
      drag(grab);
    }

    function onKey(press) {
      if (press.ctrlKey || press.altKey || press.metaKey) return;
      const onButton = press.target.closest("button") !== null;
      const acts = {
        ArrowLeft: () => moveTo(at - 1),
        ArrowRight: () => moveTo(at + 1),
        Home: () => moveTo(0),
        End: () => moveTo(last),
        s: changeSpeed,
        S: changeSpeed,
      };
      if (press.target === track) {
        acts.ArrowDown = acts.ArrowLeft;
        acts.ArrowUp = acts.ArrowRight;
        acts.PageDown = () => moveTo(at - Math.round(fps / 10));
        acts.PageUp = () => moveTo(at + Math.round(fps / 10));
      }
      if (press.target === key("closer") && !closer.hidden) {
        acts.ArrowLeft = () => move(-NUDGE, 0);
        acts.ArrowRight = () => move(NUDGE, 0);
        acts.ArrowUp = () => move(0, -NUDGE);
        acts.ArrowDown = () => move(0, NUDGE);
      }
      if (!onButton) acts[" "] = () => (video.paused ? play() : rest());
      const act = acts[press.key];
      if (!act) return;
      press.preventDefault();
      act();
    }

    function show() {
      const away = (at - strike) / fps;
      const told = at === strike ? say.at : at < strike ? say.before : say.after;
      const short = at === strike ? "" : at < strike ? say.earlier : say.later;
      const amount = seconds.format(Math.abs(away));
      const text = told.replace("%s", amount);
      hand.style.setProperty("--at", at / last);
      track.setAttribute("aria-valuenow", at);
      track.setAttribute("aria-valuetext", text);
      when.textContent = short.replace("%s", amount);
    }
  }
})();
