// The notes as they have come to be, line beside line with what they were, and ways to keep them.
import { element, write } from "../shared/elements.js";
import { facts, part, parts, say } from "./facts.js";
import { isKept, readKept } from "./kept.js";
import { notesNow } from "./notes.js";
import { keepSteps, lastStep, readSteps, stepCount, takeSteps, undo } from "./state.js";

const MOST_COMPARED = 1200; // lines
const SAVE_AT = "../../save"; // from a worksheet, on the computer that serves it

export function takeText() {
  part("do='undo'").addEventListener("click", () => {
    const last = undo();
    if (last) write(part("said"), say("undone", { what: last.told }));
  });
  part("do='download'").addEventListener("click", download);
  part("do='copy'").addEventListener("click", copy);
  const here = location.protocol.startsWith("http");
  part("do='save'").hidden = !here;
  part("do='save'").addEventListener("click", () => save(facts.digest));
  part("do='again'").addEventListener("click", () => settleOlder(readKept().steps));
  part("do='forget'").addEventListener("click", () => settleOlder([]));
  part("do='mine'").addEventListener("click", () => save(part("meanwhile").dataset.digest));
  part("do='theirs'").addEventListener("click", () => location.reload());
}

function settleOlder(steps) {
  part("older").hidden = true;
  takeSteps(steps);
}

// What was done before: on these very notes, or on an earlier state of them.
export function takeUp() {
  const kept = readKept();
  if (kept.digest === facts.digest) return readSteps();
  if (kept.steps.length && kept.text !== facts.text) part("older").hidden = false;
  return undefined;
}

export function showText() {
  const now = notesNow();
  if (part("older").hidden) keepSteps(now);
  part("work").inert = !part("older").hidden;
  const told = compared(linesIn(facts.text), linesIn(now));
  part("text-now").replaceChildren(
    ...told.filter(([sign]) => sign !== "-").map(([sign, line]) => shownLine(sign, line)),
  );
  const count = stepCount();
  write(part("changes"), count ? say("changes", { n: String(count) }) : say("changes.none"));
  const key = part("do='undo'");
  key.disabled = !count;
  write(key, count ? say("undo", { what: lastStep().told }) : say("undo.none"));
  part("loose").hidden = isKept();
}

const linesIn = (text) => text.replace(/^\ufeff/, "").split(/\r\n|\n|\r/);

function shownLine(sign, line) {
  const made = element("span", `${line}\n`, { className: sign === "+" ? "fresh" : "" });
  return made;
}

// Lines that are in both (" "), only before ("-"), only now ("+"), in order.
function compared(before, now) {
  if (before.length > MOST_COMPARED || now.length > MOST_COMPARED)
    return now.map((line) => [" ", line]);
  const longest = Array.from({ length: before.length + 1 }, () => new Uint16Array(now.length + 1));
  for (let i = before.length - 1; i >= 0; i--)
    for (let j = now.length - 1; j >= 0; j--)
      longest[i][j] =
        before[i] === now[j]
          ? longest[i + 1][j + 1] + 1
          : Math.max(longest[i + 1][j], longest[i][j + 1]);
  const told = [];
  let [i, j] = [0, 0];
  while (i < before.length || j < now.length) {
    if (i < before.length && before[i] === now[j]) told.push([" ", before[i++], j++]);
    else if (j < now.length && (i === before.length || longest[i][j + 1] >= longest[i + 1][j]))
      told.push(["+", now[j++]]);
    else told.push(["-", before[i++]]);
  }
  return told;
}

// In the encoding of the file, so that an editor finds it as it was.
function bytesNow() {
  const text = notesNow();
  if (facts.encoding === "utf-8") return text;
  const bytes = new DataView(new ArrayBuffer(text.length * 2));
  for (let n = 0; n < text.length; n++)
    bytes.setUint16(n * 2, text.charCodeAt(n), facts.encoding === "utf-16-le");
  return bytes;
}

function download() {
  const address = URL.createObjectURL(new Blob([bytesNow()], { type: "text/markdown" }));
  element("a", "", { href: address, download: "notes.md" }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
  write(part("sent"), say("saved"));
}

async function copy() {
  try {
    await navigator.clipboard.writeText(notesNow());
    write(part("sent"), say("copied"));
  } catch {
    getSelection().selectAllChildren(part("text-now"));
    write(part("sent"), say("by-hand"));
  }
}

// Into the folder, if notes.md there is still what ``digest`` says.
async function save(digest) {
  const text = notesNow();
  try {
    const answer = await fetch(SAVE_AT, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ lesson: facts.lesson, digest, text }),
    });
    const told = await answer.json();
    if (answer.status === 409) return showMeanwhile(told, text);
    part("meanwhile").hidden = true;
    return write(part("sent"), say(answer.ok ? "saved-in-folder" : "save-refused"));
  } catch {
    return write(part("sent"), say("save-gone"));
  }
}

// Somebody else wrote notes.md since: both are shown, and nothing is written before one is chosen.
function showMeanwhile({ digest, text }, mine) {
  const told = part("meanwhile");
  told.dataset.digest = digest;
  told.hidden = false;
  const lines = compared(linesIn(text), linesIn(mine)).filter(([sign]) => sign !== " ");
  part("difference").replaceChildren(
    ...lines.map(([sign, line]) => {
      const item = document.createElement("li");
      item.className = sign === "+" ? "mine" : "theirs";
      item.append(
        element("b", say(sign === "+" ? "meanwhile.mine" : "meanwhile.theirs")),
        element("span", line),
      );
      return item;
    }),
  );
  write(part("sent"), "");
  told.focus();
  for (const key of parts("do='mine'")) key.disabled = false;
}
