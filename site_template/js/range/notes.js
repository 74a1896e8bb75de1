// A lesson as the text of a notes.md that can be dropped beside the shots as it stands.
import { listOf, mapOf, plainly, quoted } from "../shared/written.js";
import { notedInTime } from "./lesson.js";

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

const remark = (parts) => parts.map(plainly).filter(Boolean).join(", ");
