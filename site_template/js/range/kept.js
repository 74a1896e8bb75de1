// Lessons kept in this phone alone: an entry of its own for each press, so that two pages open at
// once never write over each other, and whatever ends a page takes nothing with it.
const PLACE = `range ${location.pathname.replace(/[^/]*$/, "")} `;
const loose = new Map(); // what could not be kept, for as long as the page is open

const nameOf = (press) => `${PLACE}${press.lesson} ${press.id}`;

export const isKept = () => loose.size === 0;

export const letters = () => Math.random().toString(36).slice(2, 8).padEnd(6, "0");

// All presses of all lessons: lesson -> its presses in order.
export function allPresses() {
  const lessons = new Map();
  for (const press of [...stored(), ...loose.values()]) {
    if (!lessons.has(press.lesson)) lessons.set(press.lesson, []);
    lessons.get(press.lesson).push(press);
  }
  for (const presses of lessons.values())
    presses.sort((a, b) => a.order - b.order || a.id.localeCompare(b.id));
  return lessons;
}

export function keep(press) {
  loose.delete(nameOf(press));
  try {
    localStorage.setItem(nameOf(press), JSON.stringify(press));
  } catch {
    loose.set(nameOf(press), press);
  }
}

export function forget(press) {
  loose.delete(nameOf(press));
  try {
    localStorage.removeItem(nameOf(press));
  } catch {
    // it was never kept
  }
}

export function onOthersPress(told) {
  addEventListener("storage", (change) => {
    if (change.key === null || change.key.startsWith(PLACE)) told();
  });
}

function stored() {
  try {
    const names = Object.keys(localStorage).filter((name) => name.startsWith(PLACE));
    return names.map((name) => read(localStorage.getItem(name))).filter(isPress);
  } catch {
    return [];
  }
}

function read(text) {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function isPress(press) {
  return (
    typeof press?.lesson === "string" &&
    typeof press.id === "string" &&
    typeof press.kind === "string" &&
    Number.isFinite(press.at) &&
    Number.isFinite(press.order)
  );
}
