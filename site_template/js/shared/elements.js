// Parts of a page as a script makes and fills them.
export function element(tag, text, traits = {}) {
  const made = Object.assign(document.createElement(tag), traits);
  made.textContent = text;
  return made;
}

// Only where it is other, so that nothing is read aloud twice and no pen leaves its field.
export function write(into, text) {
  if (into.textContent !== text) into.textContent = text;
}
