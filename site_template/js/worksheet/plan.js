// The plan until the next lesson: how much, and which drills.
import { element } from "../shared/elements.js";
import { fill, labelOf } from "./aim.js";
import { facts, part, parts, say } from "./facts.js";
import { noted, rest, step } from "./state.js";

export function takePlan() {
  for (const field of parts("plan")) {
    const name = `plan ${field.dataset.plan}`;
    field.addEventListener("input", () => {
      const value = field.value.replace(/\D/g, "");
      step({ [name]: value }, say("did.plan", { what: labelOf(field) }), name);
    });
    field.addEventListener("change", rest);
  }
  part("drill")?.addEventListener("change", () => {
    const drill = part("drill").value;
    if (drill) add({ drill, what: drill });
    part("drill").value = "";
  });
  part("new-step").addEventListener("submit", (event) => {
    event.preventDefault();
    const field = event.target.elements.step;
    const what = field.value.trim();
    if (what) add({ drill: "", what });
    field.value = "";
  });
}

function add(told) {
  step({ "steps added": [...noted("steps added"), told] }, say("did.step", { what: told.what }));
}

export function showPlan() {
  for (const field of parts("plan")) fill(field, noted(`plan ${field.dataset.plan}`));
  const gone = noted("steps out");
  const written = canTakeOut()
    ? facts.steps.map((told, place) => ({ ...told, place }))
    : facts.steps;
  const old = written
    .filter(({ place }) => !gone.includes(place))
    .map((told) => stepLine(told, told.place === undefined ? null : () => takeOut(told)));
  const added = noted("steps added").map((told, place) =>
    stepLine(told, () => takeBack(told, place)),
  );
  part("steps").replaceChildren(...old, ...added);
}

// A step can be taken out where it stands in these notes, one to an item.
function canTakeOut() {
  const plan = facts.keys?.parts?.find(({ name }) => name === "practice")?.value;
  const steps = plan?.parts?.find(({ name }) => name === "steps")?.value;
  return steps?.kind === "list" && steps.parts?.length === facts.steps.length;
}

function takeOut({ place, what }) {
  step({ "steps out": [...noted("steps out"), place] }, say("did.step.out", { what }));
}

function takeBack({ what }, place) {
  const left = noted("steps added").filter((_, other) => other !== place);
  step({ "steps added": left }, say("did.step.out", { what }));
}

function stepLine({ drill, what }, take) {
  const item = document.createElement("li");
  item.append(
    element("span", drill ? `${drill}: ${what}`.replace(`${drill}: ${drill}`, drill) : what),
  );
  if (take) {
    const out = element("button", say("take-out"), { type: "button", className: "key small" });
    out.setAttribute("aria-label", `${say("take-out")}: ${what}`);
    out.addEventListener("click", take);
    item.append(out);
  }
  return item;
}
