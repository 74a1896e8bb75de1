// A lesson as the text of a notes.md that can be dropped beside the shots as it stands.
import { notedInTime } from "./lesson.js";

const PLAIN = /^\p{L}[\p{L}\p{N} .'’(),]*$/u;
const TAKEN = new Set(["yes", "no", "true", "false", "null", "on", "off", "none", "as last time"]);
const BLOCKS = ["warm-up", "before", "drill", "after", "closing"];

export function notesOf(lesson) {
  const byHand = lesson.number?.byHand && lesson.balls.some((ball) => fits(ball, lesson));
  const lines = [
    line("#", remark([day(lesson.startedAt), lesson.who])),
    lesson.intent && line("intent:", quoted(lesson.intent)),
    ...numberLines(lesson),
    line("shots:", spansOf(lesson)),
    byHand && line("readings:", readingsOf(lesson)),
    line("mishits:", byHand ? mishitsByNumber(lesson) : mishitsByTime(lesson)),
    !byHand && line("left out:", leftOutOf(lesson)),
    byHand && line("# left out:", leftOutOf(lesson)),
    line("# not used:", remark(unused(lesson))),
    line("# filmed:", filmsOf(lesson)),
  ];
  return `---\n${lines.filter(Boolean).join("\n")}\n---\n`;
}

export const clock = (at) => new Date(at).toTimeString().slice(0, 8);

export const day = (at) => {
  const told = new Date(at);
  const parts = [told.getFullYear(), told.getMonth() + 1, told.getDate()];
  return parts.map((part) => String(part).padStart(2, "0")).join("-");
};

function line(key, value) {
  return value ? `${key} ${value}` : "";
}

function numberLines(lesson) {
  const noted = lesson.number;
  if (!noted) return [];
  const minute = clock(noted.at).slice(0, 5);
  return [
    line("number:", noted.number),
    line("want:", noted.want),
    line("matters:", noted.matters),
    line("chosen:", notedInTime(lesson) ? `noted on a phone at ${minute}` : "afterwards"),
  ];
}

function spansOf(lesson) {
  const told = byBlock(lesson.spans, (span) => span.block);
  return mapOf(
    told.map(([block, spans]) => [
      block,
      listOf(spans.map((span) => `${clock(span.from)}-${clock(span.to ?? lesson.lastAt)}`)),
    ]),
  );
}

function readingsOf(lesson) {
  const balls = ballsOf(lesson).map(([block, of]) => [
    block,
    `[${of.map((ball) => ball.value).join(", ")}]`,
  ]);
  return mapOf(lesson.number.unit ? [["unit", lesson.number.unit], ...balls] : balls);
}

// Balls read by hand are numbered block after block.
function mishitsByNumber(lesson) {
  const inOrder = ballsOf(lesson).flatMap(([, balls]) => balls);
  const told = new Map();
  for (const { ball, tag } of lesson.mishits) {
    const place = inOrder.indexOf(ball);
    if (place >= 0) told.set(place + 1, quoted(tag));
  }
  return mapOf([...told]);
}

function mishitsByTime(lesson) {
  const told = new Map();
  for (const { at, tag } of lesson.mishits) told.set(clock(at), quoted(tag));
  return mapOf([...told]);
}

function leftOutOf(lesson) {
  return mapOf(
    lesson.leftOut.map(({ from, to, reason }) => [
      `${clock(from)}-${clock(to ?? lesson.lastAt)}`,
      quoted(reason),
    ]),
  );
}

function filmsOf(lesson) {
  return remark(lesson.films.map(({ at, block }) => `${clock(at)} ${block}`.trim()));
}

// Readings of two numbers do not mix: what was read for an earlier one is a remark.
function unused(lesson) {
  const balls = lesson.balls.filter((ball) => !lesson.number?.byHand || !fits(ball, lesson));
  return balls.map((ball) => `${ball.number} ${ball.value} (${ball.block})`);
}

function fits(ball, lesson) {
  return ball.number === lesson.number.number;
}

function ballsOf(lesson) {
  const balls = lesson.balls.filter((ball) => fits(ball, lesson));
  return byBlock(balls, (ball) => ball.block);
}

function byBlock(things, blockOf) {
  return BLOCKS.map((block) => [block, things.filter((one) => blockOf(one) === block)]).filter(
    ([, of]) => of.length,
  );
}

const listOf = (told) => (told.length > 1 ? `[${told.join(", ")}]` : told[0]);

// No template within a template: who packs the script takes the spaces of the inner one.
function mapOf(pairs) {
  const told = pairs.map(([key, value]) => `${key}: ${value}`).join(", ");
  return told && `{${told}}`;
}

const remark = (parts) => parts.map(plainly).filter(Boolean).join(", ");

// An amount as it was typed on a phone, with its unit; "" for what is none.
export function notesAmount(typed, unit) {
  const told = typed.replace(",", ".").replace(/^[−–]/, "-");
  return /^-?\d{1,5}(\.\d{1,3})?$/.test(told) ? `${told} ${unit}`.trim() : "";
}

// What was typed, on one line.
export function plainly(text) {
  return text
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")
    .replace(/\s+/g, " ")
    .trim();
}

function quoted(text) {
  const told = plainly(text);
  if (PLAIN.test(told) && !/,/.test(told) && !TAKEN.has(told.toLowerCase())) return told;
  return `"${told.replace(/[\\"]/g, "\\$&")}"`;
}
