// Steps kept in this browser alone, so that whatever ends a page takes nothing with it.
import { facts } from "./facts.js";

// A server's address has a token in it, which is another one tomorrow.
const HERE =
  location.protocol === "file:"
    ? location.pathname
    : location.pathname.split("/").slice(2).join("/");
const PLACE = `worksheet ${HERE}`;
let held = null; // what could not be kept, for as long as the page is open

export const isKept = () => held === null;

// ``digest`` is that of the notes on which the steps were taken, ``text`` what they came to.
export function readKept() {
  if (held) return held;
  try {
    const kept = JSON.parse(localStorage.getItem(PLACE));
    if (Array.isArray(kept?.steps) && typeof kept.digest === "string") return kept;
  } catch {
    // nothing is kept here, or nothing that can be read
  }
  return { digest: facts.digest, steps: [], text: "" };
}

export function keep(kept) {
  try {
    if (kept.steps.length) localStorage.setItem(PLACE, JSON.stringify(kept));
    else localStorage.removeItem(PLACE);
    held = null;
  } catch {
    held = kept;
  }
}

export function onKeptElsewhere(told) {
  addEventListener("storage", (change) => {
    if (change.key === null || change.key === PLACE) told();
  });
}
