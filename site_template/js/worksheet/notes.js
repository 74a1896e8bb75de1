// The notes.md that the page has come to: what was changed on it, and nothing else.
import { notesAmount, quoted, wantOf } from "../shared/written.js";
import { facts, sheet } from "./facts.js";
import { spliced } from "./splice.js";
import { AT_FIRST, isChanged, noted, OF_A_CLIP } from "./state.js";

const WORDS = ["intent", "feels like", "student says", "letting go of"];
const BLOCKS = ["warm-up", "before", "drill", "after", "closing"];
const PLAN = ["sessions a week", "balls", "minutes", "rounds a week", "weeks"];

export const unitOf = (number) =>
  [...sheet.querySelectorAll("[data-number] option")].find((one) => one.value === number)?.dataset
    .unit ?? "";

export function notesNow() {
  const changes = new Map([...words(), ...number(), ...shots(), ...clips(), ...practice()]);
  return changes.size ? spliced(facts.text, facts.keys, facts.end, changes) : facts.text;
}

function* words() {
  for (const key of WORDS) if (isChanged(key)) yield [key, noted(key) ? quoted(noted(key)) : null];
}

function* number() {
  const named = noted("number");
  const unit = unitOf(named);
  const [way, low, high] = ["way", "low", "high"].map(noted);
  if (isChanged("number")) yield ["number", named || null];
  if (["number", "way", "low", "high"].some(isChanged))
    yield ["want", wantOf(way, low, high, unit) || null];
  if (isChanged("number") || isChanged("matters"))
    yield ["matters", notesAmount(noted("matters"), unit) || null];
  if (isChanged("in time"))
    yield ["chosen", noted("in time") ? "before the after-shots" : "afterwards"];
}

function* shots() {
  const numbers = facts.shots.map(({ n }) => n);
  if (numbers.some((n) => isChanged(`block ${n}`))) yield ["shots", blocks(numbers)];
  for (const [key, name] of [
    ["mishits", "mishit"],
    ["left out", "out"],
  ]) {
    const told = marked(key, name, numbers);
    if (told.size) yield [key, told];
  }
}

// Every block, since what a file says of blocks counts only where the notes say nothing.
function blocks(numbers) {
  const inOrder = [...numbers].sort((a, b) => a - b);
  const written = entriesOf("shots").map(({ name }) => name);
  const told = new Map();
  for (const block of BLOCKS) {
    const stretches = stretchesOf(block, inOrder);
    const before = new Map(numbers.map((n) => [n, AT_FIRST.get(`block ${n}`)]));
    const unchanged = numbers.every(
      (n) => (before.get(n) === block) === (noted(`block ${n}`) === block),
    );
    if (unchanged && written.includes(block) && inNumbers(block)) continue;
    if (stretches.length || written.includes(block))
      told.set(
        block,
        stretches.length
          ? stretches.length > 1
            ? `[${stretches.join(", ")}]`
            : stretches[0]
          : null,
      );
  }
  return told;
}

// Blocks are told all in numbers, or all by the clock.
function inNumbers(block) {
  const { value } = entriesOf("shots").find(({ name }) => name === block);
  return !facts.text.slice(value.first, value.last).includes(":");
}

function stretchesOf(block, inOrder) {
  const found = [];
  let open = null;
  for (const n of inOrder) {
    if (noted(`block ${n}`) !== block) open = null;
    else if (open) open[1] = n;
    else {
      open = [n, n];
      found.push(open);
    }
  }
  return found.map(([first, last]) => (first === last ? `${first}` : `${first}-${last}`));
}

// Words by shot. An entry for several shots of which one was changed is told shot by shot.
function marked(key, name, numbers) {
  const told = new Map();
  const changed = new Set(numbers.filter((n) => isChanged(`${name} ${n}`)));
  if (!changed.size) return told;
  const alone = new Set(entriesOf(key).map((entry) => entry.name));
  const others = entriesOf(key).filter((entry) => !/^\d+$/.test(entry.name));
  if (others.length) {
    for (const { name: written } of others) told.set(written, null);
    for (const n of numbers)
      if (AT_FIRST.get(`${name} ${n}`) && !alone.has(String(n))) changed.add(n);
  }
  for (const n of [...changed].sort((a, b) => a - b)) {
    const value = noted(`${name} ${n}`);
    told.set(String(n), value ? quoted(value) : null);
  }
  return told;
}

const entriesOf = (key) => facts.keys?.parts?.find(({ name }) => name === key)?.value.parts ?? [];

function* clips() {
  const moved = facts.clips.filter(({ file }) =>
    OF_A_CLIP.some((name) => isChanged(`clip ${file} ${name}`)),
  );
  if (!moved.length) return;
  const items = entriesOf("clips");
  const changed = new Map();
  const added = [];
  const listed = (file) => items.findIndex(({ value }) => names(fileOf(value), file));
  for (const { file } of items.length ? moved : facts.clips) {
    const told = lineOf(file);
    const place = listed(file);
    if (place >= 0) changed.set(place, told);
    else added.push(new Map([["file", quoted(file)], ...told]));
  }
  yield ["clips", { added, changed }];
}

function fileOf(item) {
  const value = item.kind === "map" ? item.parts?.find(({ name }) => name === "file")?.value : item;
  const typed = value ? facts.text.slice(value.first, value.last) : "";
  return typed
    .replace(/^["']|["']$/g, "")
    .normalize("NFC")
    .toLowerCase();
}

// A clip may be called without its ending.
function names(typed, file) {
  const whole = file.normalize("NFC").toLowerCase();
  return typed === whole || typed === whole.replace(/\.\w+$/, "");
}

// What was changed of one clip.
function lineOf(file) {
  const told = new Map();
  const of = (name) => noted(`clip ${file} ${name}`);
  const moved = (name) => isChanged(`clip ${file} ${name}`);
  for (const name of ["view", "shot", "block"]) if (moved(name)) told.set(name, of(name) || null);
  if (moved("impact")) told.set("impact", of("impact") === null ? null : figure(of("impact")));
  for (const name of ["show", "mirror"]) if (moved(name)) told.set(name, of(name) ? "yes" : null);
  for (const name of ["ball", "crop"]) if (moved(name)) told.set(name, shares(of(name)));
  const mark = new Map();
  for (const name of ["line", "ring", "follow"]) if (moved(name)) mark.set(name, shares(of(name)));
  if (mark.size)
    told.set("mark", withinOld(file, "mark") || [...mark.values()].some(Boolean) ? mark : null);
  if (moved("face") || moved("face way")) told.set("face", faceOf(of("face"), of("face way")));
  if (moved("blur")) told.set("blur", boxes(of("blur")));
  return told;
}

function withinOld(file, key) {
  const item = entriesOf("clips").find(({ value }) => names(fileOf(value), file));
  return item?.value.parts?.some(({ name }) => name === key);
}

function faceOf(box, way) {
  if (way === "shown") return "shown";
  if (!box) return null;
  return way === "stays" ? `{all along: ${shares(box)}}` : shares(box);
}

function boxes(all) {
  if (!all.length) return null;
  return all.length > 1 ? `[${all.map(shares).join(", ")}]` : shares(all[0]);
}

export const shares = (numbers) => (numbers ? `[${numbers.map(figure).join(", ")}]` : null);

// Never with just three decimals: "1.625" might be read as thousands.
export function figure(number) {
  const told = String(Math.round(number * 1000) / 1000);
  return /\.\d{3}$/.test(told) ? `${told}0` : told;
}

function* practice() {
  const written = facts.keys?.parts?.find(({ name }) => name === "practice")?.value;
  const fresh = !written?.parts;
  const told = new Map();
  for (const key of PLAN) {
    const value = noted(`plan ${key}`);
    if (isChanged(`plan ${key}`)) told.set(key, value || null);
  }
  const added = noted("steps added").map(stepOf);
  const gone = noted("steps out");
  if (added.length || gone.length) told.set("steps", { added, gone });
  if (!told.size) return;
  if (fresh) for (const key of PLAN) if (noted(`plan ${key}`)) told.set(key, noted(`plan ${key}`));
  yield ["practice", told];
}

const stepOf = ({ drill, what }) =>
  drill ? new Map([["drill", quoted(drill)]]) : new Map([["do", quoted(what)]]);
