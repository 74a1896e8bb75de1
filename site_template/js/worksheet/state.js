// Everything the page can change, by name: as the notes had it, and after each step.
import { facts } from "./facts.js";
import { keep, readKept } from "./kept.js";

// biome-ignore format: in the order of a line
export const OF_A_CLIP = [
  "view", "block", "shot", "impact", "show", "mirror",
  "ball", "line", "ring", "follow", "face", "face way", "blur", "crop",
];

export const AT_FIRST = new Map(facts ? firstValues() : []);
let steps = [];
let now = new Map(AT_FIRST);
const listeners = [];

function* firstValues() {
  yield* Object.entries(facts.values);
  for (const { n, block, mishit, out } of facts.shots) {
    yield [`block ${n}`, block];
    yield [`mishit ${n}`, mishit];
    yield [`out ${n}`, out];
  }
  for (const clip of facts.clips)
    for (const name of OF_A_CLIP) yield [`clip ${clip.file} ${name}`, clip[name] ?? null];
  yield ["steps out", []];
  yield ["steps added", []];
}

export const noted = (name) => now.get(name);

export const same = (one, other) => JSON.stringify(one ?? null) === JSON.stringify(other ?? null);

export const isChanged = (name) => !same(now.get(name), AT_FIRST.get(name));

export const lastStep = () => steps.at(-1) ?? null;

export const stepCount = () => steps.length;

export function onStep(told) {
  listeners.push(told);
}

// A step sets ``values`` by name and says in ``told`` what it did; ``of`` names what goes on from
// letter to letter, or as something is dragged, and stays one step.
export function step(values, told, of = "") {
  const moved = Object.entries(values).filter(([name, value]) => !same(now.get(name), value));
  if (!moved.length) return;
  const taken = { values, told, of };
  if (of && lastStep()?.of === of)
    steps[steps.length - 1] = { ...taken, values: { ...lastStep().values, ...values } };
  else steps.push(taken);
  settle();
}

export function undo() {
  const last = steps.pop();
  settle();
  return last;
}

// The next step begins anew, whatever it is of.
export function rest() {
  const last = lastStep();
  if (last) last.of = "";
}

export function takeSteps(taken) {
  steps = [...taken];
  settle();
}

// ``text`` is what the steps have come to, by which they are known once it is in the folder.
export function keepSteps(text) {
  keep({ digest: facts.digest, steps, text });
}

export function readSteps() {
  steps = readKept().steps;
  settle();
}

function settle() {
  now = new Map(AT_FIRST);
  for (const { values } of steps)
    for (const [name, value] of Object.entries(values))
      if (AT_FIRST.has(name)) now.set(name, value);
  for (const told of listeners) told();
}
