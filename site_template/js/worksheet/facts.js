// What the page knows of the lesson, and its own words.
export const sheet = document.querySelector("[data-worksheet]");

export const facts = sheet ? JSON.parse(sheet.dataset.worksheet) : null;

export const part = (name) => sheet.querySelector(`[data-${name}]`);

export const parts = (name) => [...sheet.querySelectorAll(`[data-${name}]`)];

export function say(name, places = {}) {
  const told = sheet.querySelector(`[data-word="${name}"]`).textContent;
  return told.replace(/%(\w+)/g, (whole, place) => places[place] ?? whole);
}

// "before" as the page calls it.
export const blockName = (block) =>
  block ? sheet.querySelector(`[data-block-name="${block}"]`).textContent : say("shot.no-block");
