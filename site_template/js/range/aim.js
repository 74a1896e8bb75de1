// The intent, the number and what is wanted of it: noted as they are chosen.
import { notesAmount, wantOf } from "../shared/written.js";
import { part, parts, say } from "./screen.js";

const chosen = () => part("number").selectedOptions[0];

// The fields of a lesson as they were left.
export function fillAim(lesson) {
  const noted = lesson.number;
  part("intent").value = lesson.intent;
  if (part("own")) part("own").value = "";
  part("number").value = noted?.number ?? "";
  offerWays();
  part("want").value = noted?.way ?? "";
  part("low").value = noted?.low ?? "";
  part("high").value = noted?.high ?? "";
  part("matters").value = noted?.mattersTyped ?? "";
  part("window").hidden = part("want").value !== "window";
}

// ``note`` keeps a press of a kind, or goes on with the one before.
export function takeAim(note) {
  part("own")?.addEventListener("change", () => {
    if (!part("own").value) return;
    part("intent").value = part("own").value;
    note("intent", { text: part("intent").value });
  });
  part("intent").addEventListener("input", () => note("intent", { text: part("intent").value }));
  part("number").addEventListener("change", () => {
    offerWays();
    for (const name of ["low", "high", "matters"]) part(name).value = "";
    note("number", numberNow());
  });
  part("want").addEventListener("change", () => note("number", numberNow()));
  for (const name of ["low", "high", "matters"])
    part(name).addEventListener("input", () => note("number", numberNow()));
}

function offerWays() {
  const { ways = "", unit = "" } = chosen()?.dataset ?? {};
  const offered = ways ? ["", ...ways.split(",")] : [];
  part("want").replaceChildren(
    ...offered.map((way) => new Option(way ? say(`way.${way}`) : "–", way)),
  );
  part("goal").hidden = !ways;
  for (const each of parts("of-unit")) each.textContent = unit;
}

function numberNow() {
  const option = chosen();
  const { unit = "", byHand, outcome } = option.dataset;
  const way = part("want").value;
  part("window").hidden = way !== "window";
  const [low, high, matters] = ["low", "high", "matters"].map((name) => part(name).value.trim());
  const want = wantOf(way, low, high, unit);
  return {
    number: option.value,
    name: option.textContent,
    unit: outcome === undefined ? unit : "",
    byHand: byHand !== undefined,
    outcome: outcome !== undefined,
    way,
    low,
    high,
    mattersTyped: matters,
    want,
    matters: outcome === undefined && matters ? notesAmount(matters, unit) : "",
    wanted: way === "window" ? want && `${low}–${high} ${unit}`.trim() : way && say(`way.${way}`),
  };
}
