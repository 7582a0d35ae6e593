// The answer: asked anew at each change, the bound closing in while it works.
import { state } from "./state.js";
import { byId, colourIn, el } from "./dom.js";
import { postJSON, events } from "./server.js";
import { paletteChanged } from "./table.js";

let running;
let last = "";

export function setUpAnswer() {
  byId("print").addEventListener("click", () => print());
}

// ask puts the scene to the server unless nothing that matters has changed.
export async function ask(palette = []) {
  const scene = question();
  const key = JSON.stringify([scene, palette]);
  if (key === last) return;
  last = key;
  running?.abort();
  const progress = byId("progress");
  if (scene.targets.length === 0) {
    byId("result").replaceChildren();
    progress.textContent = "Pick or type the colours of a scene; the answer follows.";
    return;
  }
  running = new AbortController();
  const { signal } = running;
  try {
    const response = await postJSON("/answer", { scene, palette }, signal);
    await events(response, (kind, data) => {
      if (signal.aborted) return;
      if (kind === "progress") showProgress(data);
      else if (kind === "trouble") { byId("result").replaceChildren(); progress.textContent = data; }
      else show(data, palette);
    });
  } catch (err) {
    if (!signal.aborted) { byId("result").replaceChildren(); progress.textContent = err.message; last = ""; }
  }
}

// question is the scene without what the answer does not depend on.
function question() {
  const s = state();
  return {
    title: s.title, tolerance: s.tolerance, light: s.light, limits: s.limits, photos: [],
    targets: s.targets.map(({ name, colour, plane, area, tolerance }) => ({ name, colour, plane, area, tolerance })),
  };
}

function showProgress({ atLeast, atMost, waiting, cuts }) {
  const text = waiting ? "waiting for a turn" : atMost ? `at least ${atLeast}, at most ${atMost} tubes` : `at least ${atLeast} tubes`;
  byId("progress").replaceChildren(el("span", { className: "bound" }, text), cuts ? ` ${cuts} needs found` : "");
}

function show({ html, document: doc }, palette) {
  const box = byId("result");
  const parsed = new DOMParser().parseFromString(html, "text/html");
  box.replaceChildren(...parsed.body.childNodes);
  colourIn(box);
  box.dataset.answer = JSON.stringify(doc);
  byId("progress").textContent = "";
  if (palette.length) byId("progress").append(el("button", { type: "button", onclick: () => ask() }, "Back to the chosen palette"));
  const best = doc.palettes[0];
  if (best) paletteChanged(best.tubes);
  offerOthers(box, doc);
}

// offerOthers puts a button beside every other palette that shows it in full.
function offerOthers(box, doc) {
  box.querySelectorAll("[data-palette]").forEach((row) => {
    const tubes = row.dataset.palette.split(",");
    row.append(el("button", { type: "button", onclick: () => ask(tubes) }, "Show"));
  });
}
