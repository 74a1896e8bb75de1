// Opens a locked site. The words unwrap its key; pages, pictures and films are opened with that in
// this browser's memory, when they are asked for. Nothing is kept unless the reader wishes it, and
// then the key alone, in a form that no script can read out. From disk a browser fetches nothing,
// so what is sealed comes as scripts, each of which calls `sealed`.
"use strict";

(() => {
  const shell = document.querySelector("[data-lock]");
  const say = { ...shell.dataset };
  const form = shell.querySelector("form");
  const typed = form.querySelector("#lock-words");
  const said = shell.querySelector("[data-said]");
  const folder = location.pathname.replace(/[^/]*$/, "");
  const FRONT = "index.html";
  const NONCE_BYTES = 12;
  const LENGTH_BYTES = 8;
  const awaited = new Map(); // name of a sealed file -> who waits for it
  const urls = new Map(); // path in the open site -> where this browser has it
  let key = null;
  let contents = null; // path in the open site -> [name, type, packed]
  let shown = null; // the path of the page that is shown
  let remembered = false;

  globalThis.sealed = (name, text) => {
    awaited.get(name)?.(bytesOf(text));
    awaited.delete(name);
  };
  // What a film asks for before it is played.
  globalThis.unsealed = async (part) => {
    if (part.dataset.sealed) part.src = await urlOf(part.dataset.sealed);
  };
  shell.querySelector("[data-scriptless]").hidden = true;
  begin();

  async function begin() {
    if (!isSecureContext || !globalThis.crypto?.subtle) return tell(say.insecure);
    if (!globalThis.DecompressionStream) return tell(say.old);
    const known = await recall();
    if (known) {
      remembered = true;
      if (await openWith(known)) return;
    }
    form.hidden = false;
    form.querySelector("[data-remember]").hidden = !mayRemember();
    form.elements.show.addEventListener("change", () => {
      typed.type = form.elements.show.checked ? "text" : "password";
    });
    form.addEventListener("submit", onWords);
  }

  function tell(words) {
    said.textContent = words;
  }

  async function onWords(event) {
    event.preventDefault();
    tell(say.opening);
    let found;
    try {
      found = await keyFrom(typed.value);
    } catch {
      tell(say.wrong);
      typed.select();
      return;
    }
    if (form.elements.remember.checked) remembered = await remember(found);
    await openWith(found);
  }

  // False where the key is of an earlier lock; where something is lacking the form stays, too.
  async function openWith(found) {
    key = found;
    try {
      contents = new Map(Object.entries(JSON.parse(await textOf([say.contents, "", true]))));
      await showAddressed();
      return true;
    } catch (fault) {
      const stale = fault.name === "OperationError";
      tell(stale ? say.changed : say.missing);
      if (stale) await forget();
      remembered &&= !stale;
      return false;
    }
  }

  // Keys

  async function keyFrom(words) {
    const { subtle } = crypto;
    const own = await subtle.importKey("raw", utf8(plain(words)), "PBKDF2", false, ["deriveKey"]);
    const how = {
      name: "PBKDF2",
      hash: "SHA-256",
      salt: bytesOf(say.salt),
      iterations: Number(say.rounds),
    };
    const form = { name: "AES-GCM", length: 256 };
    const wrapping = await subtle.deriveKey(how, own, form, false, ["unwrapKey"]);
    const { nonce, box } = partsOf(bytesOf(say.wrapped));
    const opened = { name: "AES-GCM", iv: nonce, additionalData: utf8("key") };
    return subtle.unwrapKey("raw", box, wrapping, opened, "AES-GCM", false, ["decrypt"]);
  }

  // Capitals, blanks, dashes and forms of signs are one: as `locking/passphrases.py` has it.
  function plain(words) {
    return words
      .normalize("NFKC")
      .toLowerCase()
      .replace(/[\s\-\u2010-\u2015]+/g, "-")
      .replace(/^-|-$/g, "");
  }

  function partsOf(whole) {
    return { nonce: whole.slice(0, NONCE_BYTES), box: whole.slice(NONCE_BYTES) };
  }

  function utf8(text) {
    return new TextEncoder().encode(text);
  }

  function bytesOf(base64) {
    const signs = atob(base64);
    const bytes = new Uint8Array(signs.length);
    for (let i = 0; i < signs.length; i += 1) bytes[i] = signs.charCodeAt(i);
    return bytes;
  }

  // Sealed files

  async function contentOf([name, , isPacked]) {
    const { nonce, box } = partsOf(await bring(name));
    const how = { name: "AES-GCM", iv: nonce, additionalData: utf8(name) };
    const bare = await crypto.subtle.decrypt(how, key, box);
    const length = Number(new DataView(bare).getBigUint64(0));
    const content = new Blob([new Uint8Array(bare, LENGTH_BYTES, length)]);
    if (!isPacked) return content;
    return new Response(content.stream().pipeThrough(new DecompressionStream("gzip"))).blob();
  }

  async function textOf(entry) {
    return (await contentOf(entry)).text();
  }

  function bring(name) {
    return new Promise((came, failed) => {
      const script = document.createElement("script");
      awaited.set(name, came);
      script.src = `sealed/${name}.js`;
      script.addEventListener("error", () => failed(new Error(name)));
      document.head.append(script);
    });
  }

  async function urlOf(path) {
    if (!urls.has(path)) {
      const entry = contents.get(path);
      const content = await contentOf(entry);
      urls.set(path, URL.createObjectURL(content.slice(0, content.size, entry[1])));
    }
    return urls.get(path);
  }

  // Pages: "#/page.html/place" in the address says which is shown, and where in it.

  async function showAddressed() {
    const [, page, place] = /^#\/([^/]+)\/?(.*)$/.exec(decodeURI(location.hash)) ?? [];
    const path = contents.has(page) ? page : FRONT;
    if (path !== shown) await show(path);
    if (place) document.getElementById(place)?.scrollIntoView();
  }

  async function onAddress() {
    if (location.hash === "" || location.hash.startsWith("#/")) {
      try {
        await showAddressed();
      } catch {
        alert(say.missing);
      }
    } else history.replaceState(null, "", `#/${shown}/${location.hash.slice(1)}`);
  }

  async function show(path) {
    const page = new DOMParser().parseFromString(await textOf(contents.get(path)), "text/html");
    page.querySelector("meta[http-equiv]")?.remove(); // the shell's own holds
    for (const part of page.querySelectorAll("[src], [poster]")) setAside(part);
    for (const link of page.querySelectorAll("a[href]")) lead(link);
    awaited.clear();
    shown = path;
    document.open();
    document.write(`<!doctype html>${page.documentElement.outerHTML}`);
    document.close();
    scrollTo(0, 0);
    addEventListener("hashchange", onAddress);
    document.addEventListener("click", onClick);
    if (remembered) offerToForget();
    fill();
  }

  // What would be asked for under its open path waits for what is sealed.
  function setAside(part) {
    for (const [name, kept] of [
      ["src", "sealed"],
      ["poster", "sealedPoster"],
    ]) {
      const path = part.getAttribute(name);
      if (!contents.has(path)) continue;
      part.removeAttribute(name);
      part.dataset[kept] = path;
    }
  }

  function lead(link) {
    const [path, place] = link.getAttribute("href").split("#");
    if (contents.get(path)?.[1] === "text/html") {
      link.setAttribute("href", place ? `#/${path}/${place}` : `#/${path}`);
    } else if (contents.has(path)) link.dataset.sealed = path;
  }

  // Pictures when they come into view, films of the page's script when that asks.
  function fill() {
    const seen = new IntersectionObserver((entries) => {
      for (const { target, isIntersecting } of entries) {
        if (!isIntersecting) continue;
        seen.unobserve(target);
        reveal(target);
      }
    });
    for (const part of document.querySelectorAll("[data-sealed]:not(a), [data-sealed-poster]"))
      seen.observe(part);
  }

  async function reveal(part) {
    const { sealed, sealedPoster } = part.dataset;
    if (sealedPoster) part.poster = await urlOf(sealedPoster);
    if (sealed && !part.matches("[data-film] video")) part.src = await urlOf(sealed);
  }

  // A calendar, data, a clip to save.
  async function onClick(event) {
    const link = event.target.closest?.("a[data-sealed]");
    if (!link || event.defaultPrevented) return;
    event.preventDefault();
    const save = document.createElement("a");
    save.href = await urlOf(link.dataset.sealed);
    save.download = link.download || link.dataset.sealed.replace(/^.*\//, "");
    save.click();
  }

  function offerToForget() {
    const line = document.createElement("p");
    const button = document.createElement("button");
    line.className = "hint screen lock-kept";
    button.className = "go";
    button.type = "button";
    button.textContent = say.askAgain;
    button.addEventListener("click", async () => {
      await forget();
      location.reload();
    });
    line.append(`${say.remembered} `, button);
    document.querySelector("main").append(line);
  }

  // On this phone: the key alone, in a store of this host. From disk every page would share it.

  function mayRemember() {
    return location.protocol.startsWith("http") && Boolean(globalThis.indexedDB);
  }

  function kept(mode, ask) {
    return new Promise((done, failed) => {
      const opening = indexedDB.open("lesson card locks", 1);
      opening.onupgradeneeded = () => opening.result.createObjectStore("keys");
      opening.onerror = () => failed(opening.error);
      opening.onsuccess = () => {
        const within = opening.result.transaction("keys", mode);
        const asked = ask(within.objectStore("keys"));
        within.oncomplete = () => {
          opening.result.close();
          done(asked.result);
        };
        within.onerror = () => failed(within.error);
      };
    });
  }

  function recall() {
    return mayRemember() ? kept("readonly", (keys) => keys.get(folder)).catch(() => null) : null;
  }

  function remember(found) {
    return kept("readwrite", (keys) => keys.put(found, folder)).then(
      () => true,
      () => false,
    );
  }

  function forget() {
    return kept("readwrite", (keys) => keys.delete(folder)).catch(() => null);
  }
})();
