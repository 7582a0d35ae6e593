// Palettes side by side, and the curve of tubes against tolerance.
import { state } from "./state.js";
import { byId, place, say } from "./dom.js";
import { workJSON } from "./server.js";
import { offerOthers, onAnswer, question } from "./answer.js";

let drawn = ""; // what the comparison and the curve on the page belong to

export function setUpWeigh() {
  byId("compare").addEventListener("click", compare);
  byId("draw-curve").addEventListener("click", drawCurve);
  onAnswer(offer);
}

// offer shows or hides both, and takes away what belongs to another scene.
function offer(answered) {
  byId("weigh").hidden = byId("turns").hidden = !answered;
  const now = JSON.stringify(question());
  if (now !== drawn) {
    byId("curved").replaceChildren();
    byId("compared").replaceChildren();
  }
  drawn = now;
}

async function compare() {
  try {
    const { html } = await workJSON("/compare", { scene: question(), palettes: state().held }, (place) => say(place, true));
    place(byId("compared"), html);
  } catch (err) {
    say(err.message);
  }
}

let drawing;
async function drawCurve() {
  drawing?.abort();
  drawing = new AbortController();
  const { signal } = drawing;
  const asked = JSON.stringify(question());
  const told = (place) => { if (!signal.aborted) byId("curve-progress").textContent = place || "following the curve; this takes a while…"; };
  told("");
  try {
    const { html } = await workJSON("/curve", { scene: question() }, told, signal);
    if (signal.aborted) return;
    byId("curve-progress").textContent = "";
    if (asked !== JSON.stringify(question())) return;
    place(byId("curved"), html);
    offerOthers(byId("curved"));
  } catch (err) {
    if (!signal.aborted) byId("curve-progress").textContent = err.message;
  }
}
