// How notes.md writes words, amounts and goals.
const PLAIN = /^\p{L}[\p{L}\p{N} .'’(),]*$/u;
const TAKEN = new Set(["yes", "no", "true", "false", "null", "on", "off", "none", "as last time"]);

export const listOf = (told) => (told.length > 1 ? `[${told.join(", ")}]` : told[0]);

// No template within a template: who packs the script takes the spaces of the inner one.
export function mapOf(pairs) {
  const told = pairs.map(([key, value]) => `${key}: ${value}`).join(", ");
  return told && `{${told}}`;
}

// An amount as it was typed on a phone, with its unit; "" for what is none.
export function notesAmount(typed, unit) {
  const told = typed.replace(",", ".").replace(/^[−–]/, "-");
  return /^-?\d{1,5}(\.\d{1,3})?$/.test(told) ? `${told} ${unit}`.trim() : "";
}

// A goal as it was chosen; "" for a window without two ends.
export function wantOf(way, low, high, unit) {
  if (way !== "window") return { left: "more left", right: "more right" }[way] ?? way;
  const [from, to] = [notesAmount(low, ""), notesAmount(high, "")];
  if (!from || !to || Number(from) === Number(to)) return "";
  const inOrder = Number(from) < Number(to) ? [from, to] : [to, from];
  return `${inOrder[0]} to ${inOrder[1]} ${unit}`.trim();
}

// What was typed, on one line.
export function plainly(text) {
  return text
    .replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, " ")
    .replace(/\s+/g, " ")
    .trim();
}

export function quoted(text) {
  const told = plainly(text);
  if (PLAIN.test(told) && !/,/.test(told) && !TAKEN.has(told.toLowerCase())) return told;
  return `"${told.replace(/[\\"]/g, "\\$&")}"`;
}
