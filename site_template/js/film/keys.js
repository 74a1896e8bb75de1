// Keys and touch: every button, the ruler under a thumb, and the keyboard.
import { turnMarks } from "./marks.js";
import { fullScreenOf } from "./screen.js";

const NUDGE = 0.04;

export function takeKeys(film, time, picture) {
  const { figure, video, hand, fps, last, key } = film;
  const screen = fullScreenOf(film);
  const track = hand.querySelector(".film-track");

  key("play").addEventListener("click", time.turn);
  key("back").addEventListener("click", () => time.step(-1));
  key("on").addEventListener("click", () => time.step(1));
  for (const name of hand.querySelectorAll("[data-at]"))
    name.addEventListener("click", () => time.moveTo(Number(name.dataset.at)));
  key("slow").addEventListener("click", time.changeSpeed);
  key("mark")?.addEventListener("click", showMark);
  key("closer").addEventListener("click", goCloser);
  key("full").addEventListener("click", screen.turn);
  for (const stop of figure.querySelectorAll("button[data-frame]")) takeStop(stop);
  figure.addEventListener("keydown", onKey);
  track.addEventListener("pointerdown", onGrab);
  video.addEventListener("click", time.turn);

  function showMark() {
    turnMarks(film);
    picture.draw();
  }

  function goCloser() {
    const near = picture.turnCloser();
    key("closer").setAttribute("aria-pressed", String(near));
    if (near && video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) time.step(0);
  }

  function takeStop(stop) {
    stop.disabled = false;
    stop.addEventListener("click", () => time.moveTo(Number(stop.dataset.frame)));
  }

  function onGrab(grab) {
    if (grab.button !== 0) return;
    track.setPointerCapture(grab.pointerId);
    const drag = (pointer) => {
      const ruler = track.querySelector("svg").getBoundingClientRect();
      time.moveTo(Math.round(((pointer.clientX - ruler.left) / ruler.width) * last));
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
      ArrowLeft: () => time.step(-1),
      ArrowRight: () => time.step(1),
      Home: () => time.moveTo(0),
      End: () => time.moveTo(last),
      s: time.changeSpeed,
      S: time.changeSpeed,
      f: screen.turn,
      F: screen.turn,
    };
    if (screen.isFull()) acts.Escape = screen.turn;
    if (press.target === track) {
      acts.ArrowDown = acts.ArrowLeft;
      acts.ArrowUp = acts.ArrowRight;
      acts.PageDown = () => time.step(-Math.round(fps / 10));
      acts.PageUp = () => time.step(Math.round(fps / 10));
    }
    if (press.target === key("closer") && picture.isCloser()) {
      acts.ArrowLeft = () => picture.move(-NUDGE, 0);
      acts.ArrowRight = () => picture.move(NUDGE, 0);
      acts.ArrowUp = () => picture.move(0, -NUDGE);
      acts.ArrowDown = () => picture.move(0, NUDGE);
    }
    if (!onButton) acts[" "] = time.turn;
    const act = acts[press.key];
    if (!act) return;
    press.preventDefault();
    act();
  }
}
