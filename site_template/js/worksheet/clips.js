// Clips: gone through picture by picture, impact tapped, places drawn, the clip's line filled in.
import { element, write } from "../shared/elements.js";
import { fill, labelOf } from "./aim.js";
import { facts, say, sheet } from "./facts.js";
import { draw, drawn, flipped, inTheMiddle, isBox, nudged, placeName } from "./picture.js";
import { noted, rest, step } from "./state.js";

const PLACES = ["ball", "line", "ring", "follow", "face", "blur", "crop"];
const FIELDS = ["view", "shot", "block", "face way"];
const YES_NO = ["show", "mirror"];
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

const desks = [];

export function takeClips() {
  for (const box of sheet.querySelectorAll("[data-clip]")) {
    const clip = facts.clips.find(({ file }) => file === box.dataset.clip);
    desks.push(new Desk(box, clip));
  }
}

export function showClips() {
  for (const desk of desks) desk.show();
}

class Desk {
  constructor(box, clip) {
    this.box = box;
    this.clip = clip;
    this.tool = "";
    this.frame = 0;
    this.from = null; // where a finger came down
    this.takeFields();
    this.takeLikely();
    this.video = box.querySelector("video");
    if (!this.video) return;
    this.stage = box.querySelector("[data-stage]");
    this.takeTime();
    this.takeTools();
  }

  one(name) {
    return this.box.querySelector(`[data-${name}]`);
  }

  of(name) {
    return noted(`clip ${this.clip.file} ${name}`);
  }

  set(values, told, of = "") {
    const named = Object.entries(values).map(([name, value]) => [
      `clip ${this.clip.file} ${name}`,
      value,
    ]);
    step(Object.fromEntries(named), told, of && `${this.clip.file} ${of}`);
  }

  takeFields() {
    for (const name of FIELDS) {
      const field = this.one(`field="${name}"`);
      field?.addEventListener(field.tagName === "SELECT" ? "change" : "input", () => {
        this.set(
          { [name]: name === "shot" ? field.value.replace(/\D/g, "") : field.value },
          this.did(field),
          name,
        );
        if (field.tagName === "SELECT") rest();
      });
      field?.addEventListener("change", rest);
    }
    for (const name of YES_NO) {
      const field = this.one(`field="${name}"`);
      field?.addEventListener("change", () => {
        const swapped = name === "mirror" ? this.otherWay() : {};
        this.set({ [name]: field.checked, ...swapped }, this.did(field));
      });
    }
  }

  // What the picture suggests is offered while nobody has said from where it was filmed.
  takeLikely() {
    this.one("likely").addEventListener("click", () => {
      const field = this.one('field="view"');
      this.set({ view: this.clip.likely }, this.did(field), "view");
      rest();
      field.focus();
    });
  }

  showLikely() {
    const { likely } = this.clip;
    const offer = this.one("likely");
    offer.hidden = likely === "" || this.of("view") !== "";
    if (offer.hidden) return;
    const { options } = this.one('field="view"');
    const what = [...options].find(({ value }) => value === likely).text;
    write(offer, say("likely-view", { what }));
  }

  did(field) {
    return say("did.clip", { what: labelOf(field), file: this.clip.file });
  }

  // What was marked stays where it is in life when left and right are swapped.
  otherWay() {
    const told = {};
    for (const tool of PLACES) {
      const value = this.of(tool);
      told[tool] = tool === "blur" ? value.map((box) => flipped(tool, box)) : flipped(tool, value);
    }
    return told;
  }

  takeTime() {
    const { video } = this;
    this.go(this.nearest(this.of("impact") ?? this.clip.guess ?? 0));
    video.addEventListener("timeupdate", () => this.follow());
    video.addEventListener("ended", () => this.follow());
    this.one("frame").addEventListener("input", () => this.go(Number(this.one("frame").value)));
    for (const key of this.box.querySelectorAll("[data-by]"))
      key.addEventListener("click", () => this.go(this.frame + Number(key.dataset.by)));
    this.one("play").addEventListener("click", () => (video.paused ? video.play() : video.pause()));
    for (const kind of ["play", "pause"])
      video.addEventListener(kind, () =>
        write(this.one("play"), say(video.paused ? "play" : "pause")),
      );
    this.one("impact-here").addEventListener("click", () =>
      this.setImpact(this.clip.times[this.frame]),
    );
    this.one("impact-out").addEventListener("click", () => this.setImpact(null));
    this.one("impact-go").addEventListener("click", () =>
      this.go(this.nearest(this.of("impact") ?? this.clip.guess)),
    );
  }

  setImpact(at) {
    this.set(
      { impact: at },
      say(at === null ? "did.impact.none" : "did.impact", { file: this.clip.file }),
    );
  }

  nearest(at) {
    const { times } = this.clip;
    return times.reduce(
      (best, time, n) => (Math.abs(time - at) < Math.abs(times[best] - at) ? n : best),
      0,
    );
  }

  go(frame) {
    this.video.pause();
    this.frame = Math.min(Math.max(frame, 0), this.clip.times.length - 1);
    this.video.currentTime = (this.frame + 0.5) / this.clip.fps;
    this.showTime();
  }

  follow() {
    if (this.video.paused) return;
    this.frame = Math.min(
      Math.floor(this.video.currentTime * this.clip.fps),
      this.clip.times.length - 1,
    );
    this.showTime();
  }

  showTime() {
    const seconds = this.clip.times[this.frame].toFixed(3);
    this.one("frame").value = String(this.frame);
    const places = { seconds, n: String(this.frame + 1) };
    this.one("frame").setAttribute("aria-valuetext", say("frame", places));
    write(this.one("at"), say("frame", places));
  }

  takeTools() {
    for (const key of this.box.querySelectorAll("[data-tool]"))
      key.addEventListener("click", () => {
        this.tool = this.tool === key.dataset.tool ? "" : key.dataset.tool;
        this.show();
      });
    const { stage } = this;
    stage.addEventListener("pointerdown", (event) => {
      if (!this.tool || !event.isPrimary) return;
      event.preventDefault();
      stage.focus({ preventScroll: true });
      this.from = this.placeOf(event);
      this.old = this.of(this.tool);
      stage.setPointerCapture(event.pointerId);
    });
    stage.addEventListener("pointermove", (event) => this.drag(event));
    stage.addEventListener("pointerup", (event) => {
      this.drag(event);
      this.from = null;
      rest();
    });
    stage.addEventListener("pointercancel", () => {
      this.from = null;
      rest();
    });
    stage.addEventListener("keydown", (event) => this.press(event));
    this.one("same").addEventListener("click", () => {
      const other = this.likewise();
      const value = noted(`clip ${other} ${this.tool}`);
      this.place(this.tool, this.tool === "blur" ? value : value, "");
    });
  }

  placeOf(event) {
    const box = this.stage.getBoundingClientRect();
    return [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height];
  }

  drag(event) {
    if (!this.from) return;
    const { width, height } = this.stage.getBoundingClientRect();
    const place = drawn(this.tool, this.from, this.placeOf(event), width / height);
    if (place) this.place(this.tool, this.tool === "blur" ? [...this.old, place] : place, "drawn");
  }

  press(event) {
    if (!this.tool) return;
    const { tool } = this;
    const value = this.of(tool);
    const last = tool === "blur" ? (value.at(-1) ?? null) : value;
    const put = (place) =>
      this.place(tool, tool === "blur" ? [...value.slice(0, -1), place] : place, "keys");
    if (event.key === "Enter" && !(tool !== "blur" && last)) {
      event.preventDefault();
      this.place(tool, tool === "blur" ? [...value, inTheMiddle(tool)] : inTheMiddle(tool), "");
    } else if (ARROWS[event.key] && last) {
      event.preventDefault();
      put(nudged(tool, last, ARROWS[event.key], event.shiftKey));
    }
  }

  place(tool, value, of) {
    // A line and a ring are one mark: the film shows either.
    const other = { line: { ring: null }, ring: { line: null } }[tool] ?? {};
    const shown = tool === "face" && this.of("face way") === "shown" ? { "face way": "" } : {};
    const told = say(value === null || value.length === 0 ? "did.place.none" : "did.place", {
      what: placeName(tool),
      file: this.clip.file,
    });
    this.set({ [tool]: value, ...other, ...shown }, told, of && `${of} ${tool}`);
  }

  // Another clip of the same view where the same thing is marked.
  likewise() {
    const value = this.of(this.tool);
    const nothing = value === null || value?.length === 0;
    if (!this.tool || !nothing || !this.of("view")) return null;
    const alike = facts.clips.find(({ file }) => {
      const there = noted(`clip ${file} ${this.tool}`);
      return (
        file !== this.clip.file && noted(`clip ${file} view`) === this.of("view") && there?.length
      );
    });
    return alike?.file ?? null;
  }

  show() {
    for (const name of FIELDS)
      if (this.one(`field="${name}"`)) fill(this.one(`field="${name}"`), this.of(name));
    for (const name of YES_NO) {
      const field = this.one(`field="${name}"`);
      if (field) field.checked = Boolean(this.of(name));
    }
    this.showLikely();
    if (!this.video) return;
    this.box.classList.toggle("mirrored", Boolean(this.of("mirror")));
    for (const key of this.box.querySelectorAll("[data-tool]"))
      key.setAttribute("aria-pressed", String(key.dataset.tool === this.tool));
    this.stage.classList.toggle("ready", this.tool !== "");
    this.stage.setAttribute(
      "aria-label",
      this.tool
        ? say("stage.ready", { what: placeName(this.tool), file: this.clip.file })
        : say("stage", { file: this.clip.file }),
    );
    draw(
      this.one("overlay"),
      this.marked().map(({ tool, place }) => [tool, place]),
      this.tool,
    );
    this.showImpact();
    this.showMarked();
    const other = this.likewise();
    this.one("same").hidden = other === null;
    if (other) write(this.one("same"), say("same-as", { what: placeName(this.tool), other }));
  }

  marked() {
    return PLACES.flatMap((tool) => {
      const value = this.of(tool);
      if (tool === "blur") return value.map((place, n) => ({ tool, place, n }));
      return value ? [{ tool, place: value, n: 0 }] : [];
    });
  }

  showImpact() {
    const at = this.of("impact");
    const { guess } = this.clip;
    const told =
      at !== null
        ? say("impact.set", { seconds: at.toFixed(3) })
        : guess === null
          ? say("impact.none")
          : say("impact.guess", { seconds: guess.toFixed(3) });
    write(this.one("impact-told"), told);
    this.one("impact-out").hidden = at === null;
    this.one("impact-go").hidden = at === null && guess === null;
  }

  showMarked() {
    const list = this.one("marked");
    list.replaceChildren(
      ...this.marked().map(({ tool, n }) => {
        const item = document.createElement("li");
        const out = element("button", say("take-out"), { type: "button", className: "key small" });
        out.setAttribute("aria-label", `${say("take-out")}: ${placeName(tool)}, ${this.clip.file}`);
        out.addEventListener("click", () => {
          const left = tool === "blur" ? this.of("blur").filter((_, other) => other !== n) : null;
          this.place(tool, left, "");
          this.stage.focus({ preventScroll: true });
        });
        item.append(element("span", placeName(tool)), out);
        return item;
      }),
    );
    if (this.one("face-way-line"))
      this.one("face-way-line").hidden = !(this.of("face") || this.of("face way"));
    if (isBox(this.tool)) this.stage.dataset.drawing = "box";
    else delete this.stage.dataset.drawing;
  }
}
