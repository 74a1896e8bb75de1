// Time and seeking: which frame is shown, and how to come to another one.
import { bringIn } from "./loading.js";

const SLOW = 0.25;
const PATIENCE_MS = 250;
const TRIES = 5;

// The ruler below the picture: where the bead stands, and how it is said.
export function rulerOf({ hand, say, fps, last, strike }) {
  const track = hand.querySelector(".film-track");
  const when = hand.querySelector(".film-when");
  const seconds = new Intl.NumberFormat(document.documentElement.lang || undefined, {
    minimumFractionDigits: 2,
    maximumFractionDigits: 2,
  });

  function show(at) {
    const told = at === strike ? say.at : at < strike ? say.before : say.after;
    const short = at === strike ? "" : at < strike ? say.earlier : say.later;
    const amount = seconds.format(Math.abs(at - strike) / fps);
    hand.style.setProperty("--at", at / last);
    track.setAttribute("aria-valuenow", at);
    track.setAttribute("aria-valuetext", told.replace("%s", amount));
    when.textContent = short.replace("%s", amount);
  }

  function loaded(share) {
    hand.style.setProperty("--loaded", share);
  }

  return { show, loaded };
}

// Moves the video to whole frames and plays it; `ruler` and `picture` follow.
export function timeOf({ figure, video, hand, say, fps, last, strike, key }, ruler, picture) {
  let at = strike; // the frame that is shown, or on its way
  let wanted = null; // the frame to seek to as soon as the last seek is done
  let loading = null; // a promise, once somebody has asked
  let begun = false; // has it ever played or been moved?
  let painted = null; // the frame that the browser says is on the screen
  let overdue = 0; // a timer for a frame that is late
  let tries = 0; // how often it may still be asked for

  ruler.show(at);
  watchPaint();
  video.addEventListener("seeked", onSeeked);
  video.addEventListener("play", onPlay);
  video.addEventListener("pause", onPause);
  video.addEventListener("waiting", onWaiting);

  function load() {
    loading ??= (async () => {
      figure.setAttribute("aria-busy", "true");
      try {
        await bringIn(video, ruler.loaded);
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
    ruler.show(at);
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
      picture.draw();
      if (video.paused && wanted === null && painted === at) say.shown = at;
      watchPaint();
    });
  }

  function onSeeked() {
    clearTimeout(overdue);
    picture.draw();
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

  function turn() {
    return video.paused ? play() : moveTo(frameNow());
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
      ruler.show(at);
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
    ruler.show(at);
    requestAnimationFrame(follow);
  }

  function isSlow() {
    return key("slow").getAttribute("aria-pressed") === "true";
  }

  function changeSpeed() {
    key("slow").setAttribute("aria-pressed", String(!isSlow()));
    video.playbackRate = isSlow() ? SLOW : 1;
  }

  return { turn, moveTo, step: (frames) => moveTo(at + frames), changeSpeed };
}
