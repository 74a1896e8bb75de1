// What was worked on, the number, and what is wanted of it.
import { part, parts, say, sheet } from "./facts.js";
import { noted, rest, step } from "./state.js";

const option = () => part("number").selectedOptions[0];

export function takeAim() {
  part("own")?.addEventListener("change", () => {
    const told = part("own").value;
    if (told) step({ intent: told }, say("did.text", { what: labelOf(part("text='intent'")) }));
  });
  for (const field of parts("text")) {
    const { text } = field.dataset;
    field.addEventListener("input", () =>
      step({ [text]: field.value }, say("did.text", { what: labelOf(field) }), `text ${text}`),
    );
    field.addEventListener("change", rest);
  }
  part("number").addEventListener("change", () =>
    step(
      { number: part("number").value, way: "", low: "", high: "", matters: "" },
      say("did.number", { what: option().textContent }),
    ),
  );
  for (const name of ["way", "low", "high", "matters"]) {
    const field = part(name);
    const told = () => say("did.text", { what: labelOf(field) });
    field.addEventListener("input", () => step({ [name]: field.value }, told(), `goal ${name}`));
    field.addEventListener("change", rest);
  }
  part("in-time").addEventListener("change", () =>
    step(
      { "in time": part("in-time").checked },
      say("did.text", { what: labelOf(part("in-time")) }),
    ),
  );
}

export const labelOf = (field) =>
  sheet.querySelector(`label[for="${field.id}"]`).textContent.trim();

export function showAim() {
  for (const field of parts("text")) fill(field, noted(field.dataset.text));
  const number = part("number");
  fill(number, noted("number"));
  const { ways = "", unit = "" } = option()?.dataset ?? {};
  const offered = ways ? ["", ...ways.split(",")] : [""];
  const way = part("way");
  if ([...way.options].map((one) => one.value).join() !== offered.join())
    way.replaceChildren(...offered.map((one) => new Option(one ? say(`way.${one}`) : "–", one)));
  for (const name of ["way", "low", "high", "matters"]) fill(part(name), noted(name));
  part("goal").hidden = !ways;
  part("window").hidden = noted("way") !== "window";
  part("in-time").checked = noted("in time");
  part("in-time-line").hidden = !noted("number");
  for (const each of parts("of-unit")) each.textContent = unit;
  if (part("own")) part("own").value = "";
}

// The field in hand is left alone, so that no letter is lost.
export function fill(field, value) {
  if (field.value !== String(value ?? "")) field.value = value ?? "";
}
