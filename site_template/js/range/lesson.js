// What the presses of one lesson come to.
export const LONG_MS = 3 * 3600 * 1000; // so long without a press: nobody was hitting any more

const HANDLED = {
  start(lesson, press) {
    lesson.who = press.who;
    lesson.startedAt = press.at;
  },
  intent(lesson, press) {
    lesson.intent = press.text;
  },
  number(lesson, press) {
    lesson.number = press.number ? press : null;
  },
  block(lesson, press) {
    close(lesson, press.at);
    lesson.spans.push({ block: press.block, from: press.at, to: null });
  },
  ball(lesson, press) {
    const span = lesson.spans.at(-1);
    if (span) lesson.balls.push({ block: span.block, value: press.value, number: press.number });
  },
  mishit(lesson, press) {
    const ball = lesson.balls.length ? lesson.balls.at(-1) : null;
    lesson.mishits.push({ at: press.at, tag: press.tag, ball });
  },
  filmed(lesson, press) {
    lesson.films.push({ at: press.at, block: lesson.spans.at(-1)?.block ?? "" });
  },
  pause(lesson, press) {
    const open = pauseOf(lesson);
    if (open) open.to = press.at;
    else lesson.leftOut.push({ from: press.at, to: null, reason: press.reason });
  },
  end(lesson, press) {
    const at = press.until ?? press.at;
    const open = pauseOf(lesson);
    if (open) open.to = at;
    close(lesson, at);
    lesson.endedAt = at;
  },
  shared(lesson, press) {
    lesson.sharedAt = press.at;
  },
};

export function lessonOf(presses) {
  const lesson = {
    presses,
    who: "",
    startedAt: presses[0].at,
    lastAt: presses[0].at,
    endedAt: null,
    sharedAt: null,
    intent: "",
    number: null,
    spans: [],
    balls: [],
    mishits: [],
    films: [],
    leftOut: [],
  };
  for (const press of presses) {
    HANDLED[press.kind]?.(lesson, press);
    if (press.kind !== "shared") lesson.lastAt = Math.max(lesson.lastAt, press.at);
  }
  return lesson;
}

export const blockOf = (lesson) => (lesson.endedAt === null ? (lesson.spans.at(-1) ?? null) : null);

export function pauseOf(lesson) {
  const last = lesson.leftOut.at(-1);
  return last && last.to === null ? last : null;
}

// Number and goal stood before the first ball of the after-block; null where no number is noted.
export function notedInTime(lesson) {
  if (!lesson.number) return null;
  const after = lesson.spans.find((span) => span.block === "after");
  return !after || lesson.number.at <= after.from;
}

// A block lasts until the next begins; one that was left open for hours, until its last press.
function close(lesson, at) {
  const span = lesson.spans.at(-1);
  if (!span || span.to !== null) return;
  const until = at - lesson.lastAt > LONG_MS ? lesson.lastAt : at;
  span.to = Math.max(span.from, until);
}
