import { mapOf } from "../shared/written.js";

// Changes to the coach's own text: a value that was changed is written anew where it stands, and
// everything else stays as it was, sign for sign.
//
// What is to be changed is said by name: a text, null for an entry that goes, a Map for what is
// within, or { added, changed } for a list: new items, and by place the changes within old ones.
// biome-ignore format: in the order of a lesson
const ORDER = [
  "intent", "feels like", "student says", "letting go of", "number", "chosen", "want", "matters",
  "shots", "mishits", "left out", "clips", "practice",
];

// ``keys`` is where everything stands in ``text``, ``end`` where a further key goes.
export function spliced(text, keys, end, changes) {
  const eol = text.match(/\r\n|\n|\r/)?.[0] ?? "\n";
  const inOrder = new Map(
    [...changes].sort(([one], [other]) => ORDER.indexOf(one) - ORDER.indexOf(other)),
  );
  if (end === null) {
    const lines = [...inOrder].flatMap(([name, change]) => linesOf(name, change, ""));
    if (!lines.length) return text;
    const [, mark, rest] = text.match(/^(\ufeff?)([\s\S]*)$/);
    return `${mark}${["---", ...lines, "---", ""].join(eol)}${rest}`;
  }
  const edits = new Edits(text, eol);
  if (keys.parts) edits.within(keys, inOrder);
  else
    edits.put(
      end,
      end,
      [...inOrder]
        .flatMap(([name, change]) => linesOf(name, change, ""))
        .map((line) => line + eol)
        .join(""),
    );
  return edits.applied();
}

// A change as it is written on one line.
export function inLine(change) {
  if (typeof change === "string") return change;
  if (change instanceof Map) {
    const told = [...change].filter(([, inner]) => inner !== null);
    return mapOf(told.map(([name, inner]) => [name, inLine(inner)]));
  }
  return `[${change.added.map(inLine).join(", ")}]`;
}

// A new key on lines of its own: a plan and a list of clips would be too long for one.
function linesOf(name, change, indent) {
  if (change === null) return [];
  if (change instanceof Map && name === "practice")
    return [
      `${indent}${name}:`,
      ...[...change].flatMap(([inner, told]) => linesOf(inner, told, `${indent}  `)),
    ];
  if (change.added) {
    if (!change.added.length) return [];
    return [`${indent}${name}:`, ...change.added.map((item) => `${indent}  - ${inLine(item)}`)];
  }
  return [`${indent}${name}: ${inLine(change)}`];
}

class Edits {
  constructor(text, eol) {
    this.text = text;
    this.eol = eol;
    this.all = [];
  }

  put(first, last, told) {
    if (first !== last || told) this.all.push({ first, last, told });
  }

  // From the end, so that no place moves before it is come to.
  applied() {
    const inOrder = this.all.map((edit, n) => ({ ...edit, n }));
    inOrder.sort((a, b) => b.first - a.first || b.last - a.last || b.n - a.n);
    return inOrder.reduce(
      (text, { first, last, told }) => text.slice(0, first) + told + text.slice(last),
      this.text,
    );
  }

  // The changes by name within a mapping; true where nothing of it is left.
  within(map, changes) {
    const gone = new Set();
    const fresh = new Map(changes);
    map.parts.forEach((part, place) => {
      if (!changes.has(part.name)) return;
      fresh.delete(part.name);
      if (this.value(part.value, changes.get(part.name))) gone.add(place);
    });
    for (const [name, change] of fresh) if (change === null) fresh.delete(name);
    if (gone.size === map.parts.length && !fresh.size) return true;
    this.take(map, gone);
    this.add(map, gone, fresh);
    return false;
  }

  // A value as it is to be; true where its entry is to go.
  value(value, change) {
    if (change === null) return true;
    if (change instanceof Map && value.kind === "map" && value.parts)
      return this.within(value, change);
    if (change.added && value.kind === "list" && value.parts) return this.items(value, change);
    const told = inLine(change);
    const lead =
      value.first === value.last && !/\s$/.test(this.text.slice(0, value.first)) ? " " : "";
    this.put(value.first, value.last, lead + told);
    return false;
  }

  items(list, { added, changed, gone }) {
    for (const [place, change] of changed ?? []) {
      const item = list.parts[place].value;
      if (item.kind === "map") this.within(item, change);
      else {
        const whole = new Map([["file", this.text.slice(item.first, item.last)], ...change]);
        this.put(item.first, item.last, inLine(whole));
      }
    }
    const without = new Set(gone ?? []);
    if (without.size === list.parts.length && !added.length) return true;
    this.take(list, without);
    const told = added.map(inLine);
    if (list.inline !== false) this.addInline(list, without, told);
    else
      this.addLines(
        list,
        without,
        told.map((item) => `${" ".repeat(list.indent)}- ${item}`),
      );
    return false;
  }

  // Entries that go, with their commas or their lines.
  take(node, gone) {
    const { parts } = node;
    for (let place = 0; place < parts.length; place++) {
      if (!gone.has(place)) continue;
      if (node.inline === false) {
        this.takeLines(parts, place);
        continue;
      }
      let last = place;
      while (gone.has(last + 1)) last++;
      if (last + 1 < parts.length) this.put(parts[place].first, parts[last + 1].first, "");
      else
        this.put(place ? parts[place - 1].value.last : parts[0].first, parts[last].value.last, "");
      place = last;
    }
  }

  // The dash of an item stands before its first key, and stays.
  takeLines(parts, place) {
    const { first, value } = parts[place];
    const start = this.lineStart(first);
    const behindADash = parts[place + 1] && this.text.slice(start, first).includes("-");
    if (behindADash) this.put(first, parts[place + 1].first, "");
    else this.put(start, this.nextLine(value.last), "");
  }

  add(map, gone, fresh) {
    if (!fresh.size) return;
    if (map.inline !== false)
      this.addInline(
        map,
        gone,
        [...fresh].map(([name, change]) => `${name}: ${inLine(change)}`),
      );
    else
      this.addLines(
        map,
        gone,
        [...fresh].flatMap(([name, change]) => linesOf(name, change, " ".repeat(map.indent))),
      );
  }

  addInline(node, gone, told) {
    if (!told.length) return;
    const left = node.parts.filter((_, place) => !gone.has(place));
    const at = left.length ? left.at(-1).value.last : node.parts[0].first;
    this.put(at, at, `${left.length ? ", " : ""}${told.join(", ")}`);
  }

  // Below the last that stays; where none does, in the place of the last that goes.
  addLines(node, gone, lines) {
    if (!lines.length) return;
    const left = node.parts.filter((_, place) => !gone.has(place));
    if (left.length) {
      const at = this.lineEnd(left.at(-1).value.last);
      this.put(at, at, lines.map((line) => this.eol + line).join(""));
    } else {
      const at = this.lineStart(node.parts[0].first);
      this.put(at, at, lines.map((line) => line + this.eol).join(""));
    }
  }

  lineStart(place) {
    return (
      Math.max(this.text.lastIndexOf("\n", place - 1), this.text.lastIndexOf("\r", place - 1)) + 1
    );
  }

  lineEnd(place) {
    const found = this.text.slice(place).search(/[\r\n]/);
    return found < 0 ? this.text.length : place + found;
  }

  nextLine(place) {
    const end = this.lineEnd(place);
    return end + (this.text.slice(end).match(/^(\r\n|\n|\r)/)?.[0].length ?? 0);
  }
}
