// A worksheet: what is tapped becomes the lesson's notes.md, seen as it grows.
import { showAim, takeAim } from "./aim.js";
import { showClips, takeClips } from "./clips.js";
import { facts, sheet } from "./facts.js";
import { onKeptElsewhere } from "./kept.js";
import { showPlan, takePlan } from "./plan.js";
import { showShots, takeShots } from "./shots.js";
import { onStep, readSteps } from "./state.js";
import { showText, takeText, takeUp } from "./text.js";

function show() {
  showShots();
  showClips();
  showAim();
  showPlan();
  showText();
}

if (facts) {
  takeShots();
  takeClips();
  takeAim();
  takePlan();
  takeText();
  onStep(show);
  onKeptElsewhere(readSteps);
  takeUp();
  show();
  sheet.hidden = false;
}
