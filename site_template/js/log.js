// The small practice log: kept on this device alone, copied as text. Nothing is sent anywhere.
// The text has exactly the columns that the coach's practice.csv reads.
(() => {
  const log = document.querySelector("[data-log]");
  if (!log) return;
  const columns = log.dataset.columns.split(",");
  const fields = columns.map((name) => log.querySelector(`[name="${name}"]`));
  const said = log.querySelector("[data-said]");
  const list = log.querySelector("[data-lines]");
  const text = log.querySelector("textarea");
  // Pages of several students may share a host or a disk: each folder keeps a log of its own.
  const key = `practice ${location.pathname.replace(/[^/]*$/, "")}`;
  const sentKey = `sent ${key}`;
  let kept = true;
  let lines = load(key);
  let sent = load(sentKey); // the lines that were copied last time

  function load(from) {
    try {
      const told = JSON.parse(localStorage.getItem(from) || "[]");
      return Array.isArray(told) ? told.filter((line) => Array.isArray(line)) : [];
    } catch {
      kept = false;
      return [];
    }
  }

  function store() {
    try {
      put(key, lines);
      put(sentKey, sent);
      kept = true;
    } catch {
      kept = false;
    }
    show();
  }

  function put(where, what) {
    if (what.length) localStorage.setItem(where, JSON.stringify(what));
    else localStorage.removeItem(where);
  }

  function unsent() {
    const had = new Set(sent.map((line) => JSON.stringify(line)));
    return lines.filter((line) => !had.has(JSON.stringify(line)));
  }

  function asText(which) {
    const rows = [columns, ...which].map((line) =>
      line.map((value) => cell(String(value))).join(","),
    );
    return which.length ? `${rows.join("\n")}\n` : "";
  }

  function cell(value) {
    return /[",]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value;
  }

  function show() {
    if (!kept) log.querySelector("[data-where]").textContent = log.dataset.unkept;
    text.value = asText(lines);
    list.replaceChildren(
      ...lines.map((line, place) => {
        const item = document.createElement("li");
        const words = document.createElement("span");
        words.textContent = line
          .map((value, i) =>
            i && value !== "" ? pair(label(i), shown(i, value)) : shown(i, value),
          )
          .filter((part) => part !== "")
          .join(" · ");
        const out = document.createElement("button");
        out.type = "button";
        out.textContent = log.dataset.takeOut;
        out.setAttribute("aria-label", pair(log.dataset.takeOut, words.textContent));
        out.addEventListener("click", () => {
          lines.splice(place, 1);
          store();
          fields[0].focus();
        });
        item.append(words, out);
        return item;
      }),
    );
    for (const name of ["copy", "clear"])
      log.querySelector(`[data-do="${name}"]`).disabled = !lines.length;
    log.querySelector('[data-do="copyNew"]').hidden = !sent.length || !unsent().length;
  }

  function pair(name, value) {
    return log.dataset.pair.replace("%n", () => name).replace("%v", () => value);
  }

  // What was written, as the page's language writes it; the text for the coach stays as it is.
  function shown(i, value) {
    const field = fields[i];
    const own = document.documentElement.lang;
    const language = own === "en" ? "en-GB" : own; // the day before the month, as on every page
    const day = field.type === "date" ? new Date(`${value}T00:00Z`) : null;
    if (day && !Number.isNaN(day.valueOf())) {
      return new Intl.DateTimeFormat(language, { dateStyle: "long", timeZone: "UTC" }).format(day);
    }
    if (field.type === "number" && value !== "" && Number.isFinite(Number(value))) {
      return new Intl.NumberFormat(language).format(Number(value));
    }
    return (
      [...(field.options ?? [])].find((option) => option.value === value && value !== "")?.text ??
      value
    );
  }

  function label(i) {
    return fields[i].labels[0].dataset.short || fields[i].labels[0].textContent;
  }

  // A spreadsheet would run a cell that begins like a sum.
  function clean(value) {
    return value
      .replace(/[\r\n\t]+/g, " ")
      .trim()
      .replace(/^[=+@\-\s]+/, "");
  }

  function add() {
    const wrong = fields.find((field) => !field.checkValidity());
    if (wrong) {
      wrong.reportValidity();
      return;
    }
    const line = fields.map((field) => clean(field.value));
    if (line.slice(1).every((value) => value === "")) {
      said.textContent = log.dataset.empty;
      return;
    }
    lines.push(line);
    lines.sort((a, b) => String(a[0]).localeCompare(String(b[0])));
    for (const field of fields.slice(1)) field.value = "";
    said.textContent = log.dataset.added;
    store();
  }

  const copy = () => copyOf(lines);
  const copyNew = () => copyOf(unsent());

  async function copyOf(which) {
    text.value = asText(which);
    sent = [...lines];
    try {
      await navigator.clipboard.writeText(text.value);
      said.textContent = log.dataset.copied;
    } catch {
      text.focus();
      text.select();
      said.textContent = log.dataset.byHand;
      return; // what is marked has to stay as it is
    }
    store();
  }

  function clear() {
    if (!confirm(log.dataset.sure)) return;
    lines = [];
    sent = [];
    store();
  }

  const actions = { add, copy, copyNew, clear };
  for (const button of log.querySelectorAll("[data-do]")) {
    button.addEventListener("click", actions[button.dataset.do]);
  }
  const now = new Date();
  fields[0].value = new Date(now - now.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
  log.hidden = false;
  document.querySelector("[data-log-paper]").hidden = true;
  show();
})();
