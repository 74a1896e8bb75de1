// Words, times and small parts of the page for the range.
const LANGUAGE = document.documentElement.lang;
const SHOWN_IN = LANGUAGE === "en" ? "en-GB" : LANGUAGE; // the day before the month, as elsewhere
const MINUTES = new Intl.DateTimeFormat(SHOWN_IN, {
  hour: "2-digit",
  minute: "2-digit",
  hourCycle: "h23",
});
const SECONDS = new Intl.DateTimeFormat(SHOWN_IN, {
  hour: "2-digit",
  minute: "2-digit",
  second: "2-digit",
  hourCycle: "h23",
});
const DAYS = new Intl.DateTimeFormat(SHOWN_IN, { day: "numeric", month: "short" });

export const range = document.querySelector("[data-range]");

export const part = (name) => range.querySelector(`[data-${name}]`);

export const parts = (name) => [...range.querySelectorAll(`[data-${name}]`)];

export const minute = (at) => MINUTES.format(at);

export const second = (at) => SECONDS.format(at);

export const dayOf = (at) => DAYS.format(at);

export function say(name, places = {}) {
  const told = range.querySelector(`[data-word="${name}"]`).textContent;
  return told.replace(/%(\w+)/g, (whole, place) => places[place] ?? whole);
}

export const blockName = (block) => range.querySelector(`[data-block="${block}"] span`).textContent;

// What a press did, in a few words.
export function toldOf(press) {
  const words = {
    start: () => say("press.start"),
    intent: () => say("press.intent", { what: press.text }),
    number: () =>
      say("press.number", { what: [press.name, press.wanted].filter(Boolean).join(", ") }),
    block: () => blockName(press.block),
    ball: () => say("press.ball", { what: press.shown }),
    mishit: () => say("press.mishit", { what: press.tag }),
    filmed: () => say("press.filmed"),
    pause: () => say(press.back ? "press.back" : "press.pause"),
    end: () => say("press.end"),
  }[press.kind];
  return words ? words() : press.kind;
}
