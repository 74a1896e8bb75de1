// A page for the range: a lesson is pressed together with one thumb, and leaves as one text.

import { element, write } from "../shared/elements.js";
import { notesAmount, plainly } from "../shared/written.js";
import { fillAim, takeAim } from "./aim.js";
import { allPresses, forget, isKept, keep, letters, onOthersPress } from "./kept.js";
import { blockOf, LONG_MS, lessonOf, notedInTime, pauseOf } from "./lesson.js";
import { notesOf } from "./notes.js";
import { blockName, dayOf, minute, part, parts, range, say, second, toldOf } from "./screen.js";

const FIRST_PAGE = "#all";
let shown = null; // the lesson on the screen
let opened = ""; // of which the fields are filled

const actions = {
  end,
  kinds,
  filmed,
  pause,
  undo,
  share,
  copy,
  save,
  delete: takeAway,
  print: () => print(),
};

function lessons() {
  const told = [...allPresses().values()].map(lessonOf);
  return told.sort((a, b) => b.startedAt - a.startedAt);
}

const idOf = (lesson) => lesson.presses[0].lesson;

const steps = (lesson) => lesson.presses.filter((press) => press.kind !== "shared");

function press(kind, told = {}) {
  const before = shown.presses.at(-1);
  const at = Date.now();
  keep({
    lesson: idOf(shown),
    id: `${at}-${letters()}`,
    order: before.order + 1,
    at,
    kind,
    ...told,
  });
  show();
  if (kind !== "shared")
    write(part("said"), say("did", { what: toldOf(steps(shown).at(-1)), at: minute(at) }));
}

// What is typed letter by letter stays one press, as long as nothing else came between.
function pressOn(kind, told) {
  const last = shown.presses.at(-1);
  if (last.kind !== kind) return press(kind, told);
  keep({ ...last, at: Date.now(), ...told });
  return show();
}

function startLesson(event) {
  event.preventDefault();
  const field = document.getElementById("range-who");
  const at = Date.now();
  const lesson = `${at}-${letters()}`;
  keep({
    lesson,
    id: `${at}-${letters()}`,
    order: 0,
    at,
    kind: "start",
    who: plainly(field.value),
  });
  field.value = "";
  location.hash = lesson;
  show();
}

function end() {
  const late = part("late");
  if (Date.now() - shown.lastAt <= LONG_MS || !shown.spans.length) return press("end");
  late.hidden = false;
  document.getElementById("range-until").value = new Date(shown.lastAt).toTimeString().slice(0, 5);
  return document.getElementById("range-until").focus();
}

// Nobody pressed "end" on the day: when it was, the coach knows best.
function endLate(event) {
  event.preventDefault();
  const [hour, minutes] = document.getElementById("range-until").value.split(":").map(Number);
  const { from } = shown.spans.at(-1);
  const until = new Date(from);
  until.setHours(hour, minutes, 0, 0);
  if (until < from) until.setDate(until.getDate() + 1);
  part("late").hidden = true;
  const near = until - from <= 2 * LONG_MS ? until.getTime() : shown.lastAt;
  press("end", { until: Math.max(near, from) });
}

function kinds() {
  const open = part("do='kinds'").getAttribute("aria-expanded") !== "true";
  openKinds(open);
}

function openKinds(open) {
  part("do='kinds'").setAttribute("aria-expanded", String(open));
  document.getElementById("range-kinds").hidden = !open;
  if (open) document.getElementById("range-kinds").scrollIntoView({ block: "nearest" });
}

function filmed() {
  press("filmed");
}

function pause() {
  press("pause", { reason: say("pause.reason"), back: pauseOf(shown) !== null });
}

function undo() {
  const last = steps(shown).at(-1);
  if (last.kind === "start") return;
  forget(last);
  opened = "";
  show();
  write(part("said"), say("undone", { what: toldOf(last) }));
}

function takeAway() {
  if (!confirm(say(shown.sharedAt === null ? "sure.unsent" : "sure"))) return;
  for (const each of shown.presses) forget(each);
  location.hash = FIRST_PAGE;
  show();
}

const text = () => document.getElementById("range-text");

async function share() {
  try {
    await navigator.share({ title: "notes.md", text: text().value });
    press("shared");
  } catch {
    // not sent after all
  }
}

async function copy() {
  try {
    await navigator.clipboard.writeText(text().value);
    press("shared");
    write(part("sent"), say("copied"));
  } catch {
    text().focus();
    text().select();
    write(part("sent"), say("by-hand"));
  }
}

function save() {
  const address = URL.createObjectURL(new Blob([text().value], { type: "text/markdown" }));
  element("a", "", { href: address, download: "notes.md" }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
  press("shared");
  write(part("sent"), say("saved"));
}

function ballRead(event) {
  event.preventDefault();
  const field = document.getElementById("range-amount");
  const told = notesAmount(field.value.trim(), "");
  field.focus();
  if (!told) return field.select();
  field.value = "";
  return readBall(told, [told, shown.number.unit].filter(Boolean).join(" "));
}

function readBall(value, label) {
  press("ball", { value, shown: label, number: shown.number.number });
}

// Everything on the screen, from what is kept.
function show() {
  const all = lessons();
  const wanted = location.hash.slice(1);
  const running = all.find((each) => each.endedAt === null && Date.now() - each.lastAt < LONG_MS);
  shown = all.find((each) => idOf(each) === wanted) ?? (wanted ? null : (running ?? null));
  if (shown && !wanted) location.replace(`#${idOf(shown)}`); // it stays on the screen once it ended
  part("loose").hidden = isKept();
  part("screen='lessons'").hidden = shown !== null;
  part("screen='lesson'").hidden = shown === null;
  if (shown) showLesson();
  else showAll(all);
}

function showAll(all) {
  opened = "";
  part("kept-lessons").hidden = !all.length;
  part("lessons").replaceChildren(
    ...all.map((each) => {
      const item = document.createElement("li");
      item.append(
        element("a", headOf(each), { href: `#${idOf(each)}` }),
        element("span", stateOf(each)),
      );
      return item;
    }),
  );
}

function headOf(lesson) {
  const when = `${dayOf(lesson.startedAt)}, ${minute(lesson.startedAt)}`;
  return lesson.who ? `${lesson.who}, ${when}` : when;
}

function stateOf(lesson) {
  if (lesson.endedAt === null) return say("state.going");
  return say(lesson.sharedAt === null ? "state.ended" : "state.sent");
}

function showLesson() {
  if (opened !== idOf(shown)) {
    opened = idOf(shown);
    fillAim(shown);
    openKinds(false);
    part("late").hidden = true;
    part("aim").open = shown.spans.length === 0 && shown.endedAt === null;
    write(part("sent"), "");
  }
  const ended = shown.endedAt !== null;
  write(part("which"), headOf(shown));
  write(part("aim-told"), aimTold());
  write(part("noted"), notedTold());
  part("going").hidden = ended;
  part("text-part").hidden = !ended;
  part("do='share'").hidden = !navigator.share;
  showBlocks();
  showBalls();
  if (ended && text().value !== notesOf(shown)) text().value = notesOf(shown);
  showPresses();
}

function aimTold() {
  const noted = shown.number;
  const goal = noted && [noted.name, noted.wanted].filter(Boolean).join(", ");
  return [shown.intent, goal].filter(Boolean).join(" · ") || say("aim");
}

function notedTold() {
  const noted = shown.number;
  if (!noted) return "";
  const missing = noted.want === "" && !noted.outcome;
  if (missing) return say("goal-missing");
  return say(notedInTime(shown) ? "noted" : "noted-late", { at: minute(noted.at) });
}

function showBlocks() {
  const now = blockOf(shown);
  for (const key of parts("block")) {
    const spans = shown.spans.filter((span) => span.block === key.dataset.block);
    const current = now?.block === key.dataset.block;
    key.setAttribute("aria-pressed", String(current));
    const last = spans.at(-1);
    const stamp = last ? [minute(last.from), last.to === null ? "" : minute(last.to)] : [];
    write(key.querySelector("small"), stamp.length ? `${stamp[0]}–${stamp[1]}` : "");
  }
  const paused = pauseOf(shown);
  const key = part("do='pause'");
  key.setAttribute("aria-pressed", String(paused !== null));
  write(key, paused ? say("pause.back", { at: minute(paused.from) }) : say("pause"));
}

function showBalls() {
  const { number } = shown;
  const byHand = Boolean(number?.byHand);
  const kind = number?.outcome ? "outcome" : "amount";
  const now = blockOf(shown);
  for (const each of parts("balls")) each.hidden = !byHand || each.dataset.balls !== kind;
  const label = document.querySelector("label[for=range-amount]");
  if (byHand) write(label, number.unit ? `${number.name} (${number.unit})` : number.name);
  const idle = now === null || pauseOf(shown) !== null;
  for (const key of range.querySelectorAll("[data-balls] button")) key.disabled = idle;
  part("tally").hidden = !byHand;
  write(part("tally"), byHand ? tally(now) : "");
}

function tally(now) {
  if (now === null) return say("tally.none");
  const balls = shown.balls.filter(
    (ball) => ball.block === now.block && ball.number === shown.number.number,
  );
  const places = {
    block: blockName(now.block),
    n: String(balls.length),
    hits: String(balls.filter((ball) => ball.value === "in").length),
  };
  return say(shown.number.outcome ? "tally.in" : "tally", places);
}

function showPresses() {
  const undone = steps(shown).at(-1);
  const key = part("do='undo'");
  key.disabled = undone.kind === "start";
  write(key, key.disabled ? say("undo.none") : say("undo", { what: toldOf(undone) }));
  part("presses").replaceChildren(
    ...steps(shown).map((each) => {
      const item = document.createElement("li");
      const what = element("span", `${second(each.at)} ${toldOf(each)}`);
      item.append(what);
      if (each.kind === "start") return item;
      const out = element("button", say("take-out"), { type: "button", className: "key small" });
      out.setAttribute("aria-label", say("take-out.which", { what: what.textContent }));
      out.addEventListener("click", () => {
        forget(each);
        opened = "";
        show();
        part("do='undo'").focus();
      });
      item.append(out);
      return item;
    }),
  );
}

function tick() {
  write(document.querySelector("[data-clock]"), second(Date.now()));
}

if (range) {
  for (const key of parts("do")) key.addEventListener("click", actions[key.dataset.do]);
  for (const key of parts("block"))
    key.addEventListener("click", () => {
      if (blockOf(shown)?.block !== key.dataset.block) press("block", { block: key.dataset.block });
      part("aim").open = false;
    });
  for (const key of parts("ball"))
    key.addEventListener("click", () => readBall(key.dataset.ball, key.textContent));
  for (const key of parts("mishit"))
    key.addEventListener("click", () => {
      openKinds(false);
      press("mishit", { tag: key.textContent });
      part("do='kinds'").focus();
    });
  part("start").addEventListener("submit", startLesson);
  part("late").addEventListener("submit", endLate);
  part("balls='amount'").addEventListener("submit", ballRead);
  takeAim(pressOn);
  onOthersPress(show);
  addEventListener("hashchange", show);
  addEventListener("pageshow", show);
  setInterval(tick, 1000);
  tick();
  document.querySelector("[data-slip]").dataset.slip = "paper";
  range.hidden = false;
  show();
}
