// Shots as dots in a row, block after block: an edge is dragged, a dot is tapped.
import { element, write } from "../shared/elements.js";
import { blockName, facts, part, parts, say } from "./facts.js";
import { noted, step } from "./state.js";

const FEW = 1; // shots that a block keeps, however far an edge is dragged
let chosen = null; // the shot whose panel is open
let dragged = null; // the edge in hand: its place, and the blocks as they were

const numbers = () => facts.shots.map(({ n }) => n);

const blocksNow = () => numbers().map((n) => noted(`block ${n}`));

// Stretches of shots in one block, by place in time: [block, first, last].
function stretches(blocks) {
  const found = [];
  blocks.forEach((block, place) => {
    if (found.at(-1)?.[0] === block) found.at(-1)[2] = place;
    else found.push([block, place, place]);
  });
  return found;
}

export function takeShots() {
  if (!facts.shots.length) return;
  const list = part("shots");
  list.addEventListener("click", choose);
  list.addEventListener("pointerdown", takeEdge);
  list.addEventListener("pointermove", dragEdge);
  for (const kind of ["pointerup", "pointercancel"])
    list.addEventListener(kind, () => {
      dragged = null;
    });
  list.addEventListener("keydown", moveEdge);
  for (const key of parts("starts")) key.addEventListener("click", () => start(key.dataset.starts));
  for (const key of parts("mishit"))
    key.addEventListener("click", () => mishit(key.dataset.mishit));
  for (const key of parts("reason"))
    key.addEventListener("click", () => leaveOut(key.dataset.reason));
  part("own-reason").addEventListener("change", () => leaveOut(part("own-reason").value.trim()));
}

export function showShots() {
  if (!facts.shots.length) return;
  const held = document.activeElement?.dataset?.holds;
  const blocks = blocksNow();
  const found = stretches(blocks);
  part("shots").replaceChildren(
    ...found.flatMap((stretch, place) => stretchOf(stretch, found[place - 1], found)),
  );
  if (held) part("shots").querySelector(`[data-holds="${held}"]`)?.focus();
  showPanel();
}

function stretchOf([block, first, last], before, found) {
  const dots = facts.shots.slice(first, last + 1).map((shot) => dotOf(shot, block));
  const label = before ? edgeOf(first, before, block, found) : nameOf(block);
  return [label, ...dots];
}

function nameOf(block) {
  const item = document.createElement("li");
  item.className = "edge";
  item.append(element("span", blockName(block)));
  return item;
}

function edgeOf(place, before, block, found) {
  const item = document.createElement("li");
  const edge = element("span", blockName(block), { tabIndex: 0, className: "grip" });
  const after = found.find(([, first]) => first === place);
  const [lowest, highest] = [before[1] + FEW, after[2] + 1 - FEW];
  edge.setAttribute("role", "slider");
  edge.setAttribute(
    "aria-label",
    say("edge", { block: blockName(block), other: blockName(before[0]) }),
  );
  edge.setAttribute("aria-valuemin", String(lowest));
  edge.setAttribute("aria-valuemax", String(highest));
  edge.setAttribute("aria-valuenow", String(place));
  edge.setAttribute("aria-valuetext", say("edge.value", { n: String(numbers()[place]) }));
  edge.dataset.edge = String(place);
  edge.dataset.holds = `edge ${block}`;
  item.className = "edge";
  item.append(edge);
  return item;
}

function dotOf({ n, filed, tool }, block) {
  const item = document.createElement("li");
  const tag = noted(`mishit ${n}`) || filed;
  const out = noted(`out ${n}`);
  const dot = element("button", "", { type: "button", className: "dot" });
  dot.dataset.shot = String(n);
  dot.dataset.holds = `shot ${n}`;
  dot.dataset.in = block;
  if (tag) dot.dataset.tag = "";
  if (out || tool) dot.dataset.out = "";
  dot.setAttribute("aria-expanded", String(chosen === n));
  dot.setAttribute("aria-controls", "worksheet-shot");
  const told = [say("shot", { n: String(n), block: blockName(block) })];
  if (tag) told.push(say("shot.mishit", { what: tag }));
  if (out) told.push(say("shot.out", { reason: out }));
  if (tool) told.push(say("shot.tool"));
  dot.setAttribute("aria-label", told.join(", "));
  dot.append(element("i", ""), element("small", String(n)));
  item.append(dot);
  return item;
}

function choose(event) {
  const dot = event.target.closest("[data-shot]");
  if (!dot) return;
  const n = Number(dot.dataset.shot);
  chosen = chosen === n ? null : n;
  showShots();
  if (chosen !== null) part("shot-panel").scrollIntoView({ block: "nearest" });
}

function showPanel() {
  const panel = part("shot-panel");
  const shot = facts.shots.find(({ n }) => n === chosen);
  panel.hidden = !shot;
  if (!shot) return;
  const { n } = shot;
  const block = noted(`block ${n}`);
  const [tag, out] = [noted(`mishit ${n}`), noted(`out ${n}`)];
  write(part("shot-named"), say("shot", { n: String(n), block: blockName(block) }));
  const filed = shot.filed && !tag ? say("shot.filed", { what: shot.filed }) : "";
  write(
    part("shot-told"),
    [shot.told, filed, shot.tool ? say("shot.tool") : ""].filter(Boolean).join(". "),
  );
  for (const key of parts("starts"))
    key.setAttribute("aria-pressed", String(key.dataset.starts === block));
  for (const key of parts("mishit"))
    key.setAttribute("aria-pressed", String(key.dataset.mishit === tag));
  for (const key of parts("reason"))
    key.setAttribute("aria-pressed", String(key.dataset.reason === out));
  const own = part("own-reason");
  const known = parts("reason").some((key) => key.dataset.reason === out);
  if (document.activeElement !== own) own.value = known ? "" : out;
}

// From here to the end of the stretch it lies in.
function start(block) {
  const blocks = blocksNow();
  const place = numbers().indexOf(chosen);
  const [, , last] = stretches(blocks).find(([, first, end]) => first <= place && place <= end);
  const values = {};
  for (const n of numbers().slice(place, last + 1)) values[`block ${n}`] = block;
  const told = block ? "did.block" : "did.block.none";
  step(values, say(told, { block: blockName(block), n: String(chosen) }));
}

function mishit(tag) {
  const told = tag ? "did.mishit" : "did.mishit.none";
  step({ [`mishit ${chosen}`]: tag }, say(told, { n: String(chosen), what: tag }));
}

function leaveOut(reason) {
  const told = reason ? "did.out" : "did.out.none";
  step({ [`out ${chosen}`]: reason }, say(told, { n: String(chosen), reason }));
}

function takeEdge(event) {
  const edge = event.target.closest("[data-edge]");
  if (!edge || !event.isPrimary) return;
  event.preventDefault();
  edge.focus();
  dragged = { place: Number(edge.dataset.edge), blocks: blocksNow() };
  part("shots").setPointerCapture(event.pointerId);
}

function dragEdge(event) {
  if (!dragged) return;
  const dot = document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-shot]");
  if (!dot) return;
  const box = dot.getBoundingClientRect();
  const behind = event.clientX > box.left + box.width / 2 ? 1 : 0;
  moveTo(dragged, numbers().indexOf(Number(dot.dataset.shot)) + behind);
}

function moveEdge(event) {
  const edge = event.target.closest("[data-edge]");
  const by = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 }[event.key];
  if (!edge || !by) return;
  event.preventDefault();
  const place = Number(edge.dataset.edge);
  moveTo({ place, blocks: blocksNow() }, place + by);
}

// The edge that stood at ``place`` among ``blocks`` comes to stand at ``to``.
function moveTo({ place, blocks }, to) {
  const found = stretches(blocks);
  const after = found.findIndex(([, first]) => first === place);
  const [[left, lowest], [right, , highest]] = [found[after - 1], found[after]];
  const at = Math.min(Math.max(to, lowest + FEW), highest + 1 - FEW);
  const values = {};
  for (let n = lowest; n <= highest; n++) values[`block ${numbers()[n]}`] = n < at ? left : right;
  const told = say("did.edge", { block: blockName(right), n: String(numbers()[at]) });
  step(values, told, `edge ${lowest} ${highest}`);
}
