"use strict";
(() => {
  const EVERY_MS = 1000;
  const frame = document.querySelector("iframe");
  const students = document.querySelector("#students");
  const base = new URL("./", location.href).href;
  let shown = Number(document.body.dataset.build);
  let told = "";

  // Everything is set as text: words of the notes may look like anything.
  function line(kind, text) {
    const made = document.createElement(kind);
    made.textContent = text;
    return made;
  }

  function tell(news) {
    document.querySelector("#state").textContent = news.state;
    const problem = document.querySelector("#problem");
    const said = news.problem.map((text) => line("p", text));
    if (news.lines.length) said.push(line("pre", news.lines.join("\n")));
    if (news.more) said.push(line("p", news.more));
    problem.replaceChildren(...said);
    problem.hidden = said.length === 0;
    const choice = new Option(document.body.dataset.open, "");
    students.replaceChildren(choice, ...news.pages.map(([name, path]) => new Option(name, path)));
    students.hidden = news.pages.length === 0;
    if (news.build > 0 && !frame.src) begin();
  }

  // Until something was built there is no page to show, and nothing to lead to.
  function begin() {
    const before = decodeURI(location.hash.slice(1));
    const known = /^(site|coach_book)\//.test(before) && !before.includes("..");
    frame.src = known ? before : frame.dataset.start;
    for (const waiting of document.querySelectorAll(".waiting")) waiting.hidden = false;
  }

  async function look() {
    try {
      const answer = await fetch("news.json", { cache: "no-store" });
      if (!answer.ok) throw new Error(answer.status);
      const text = await answer.text();
      const news = JSON.parse(text);
      if (text !== told) tell(news);
      told = text;
      if (news.build !== shown && shown > 0) frame.contentWindow.location.reload();
      shown = news.build;
    } catch {
      document.querySelector("#state").textContent = document.body.dataset.ended;
      told = "";
    }
    setTimeout(look, EVERY_MS);
  }

  students.addEventListener("change", () => {
    if (students.value) frame.contentWindow.location.assign(base + students.value);
    students.value = "";
  });

  // Where one is stays in the address, so that loading the frame anew leads back there.
  frame.addEventListener("load", () => {
    const at = frame.contentWindow.location.href;
    if (!at.startsWith(base)) return;
    document.querySelector("#alone").href = at;
    history.replaceState(null, "", `#${at.slice(base.length)}`);
  });

  look();
})();
