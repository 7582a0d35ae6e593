// The answer: asked anew at each change, the bound closing in while it works.
import { state } from "./state.js";
import { byId, el, place, say } from "./dom.js";
import { postJSON, events, inLine } from "./server.js";
import { paletteChanged } from "./table.js";
import { hold } from "./held.js";

const empty = "Pick or type the colours of a scene; the answer follows.";
let running;
let asked = ""; // the scene of the answer that stands or is on its way
let shown = []; // the tubes of the palette on the page
const watchers = [];
const tell = (answered) => watchers.forEach((f) => f(answered));

// onAnswer tells whether an answer stands, at each new one.
export const onAnswer = (f) => watchers.push(f);

export function setUpAnswer() {
  byId("print").addEventListener("click", () => print());
  byId("back").addEventListener("click", () => ask([]));
  byId("hold").addEventListener("click", () => hold(shown));
}

// ask puts the scene to the server unless nothing that matters has changed. With
// a palette it asks what that reaches; with an empty one it goes back to choosing.
export async function ask(palette) {
  const scene = question();
  byId("promise").hidden = scene.targets.length > 0;
  const key = JSON.stringify(scene);
  if (key === asked && !palette) return;
  asked = key;
  palette ??= [];
  running?.abort();
  if (scene.targets.length === 0) {
    clear(empty);
    return;
  }
  running = new AbortController();
  const { signal } = running;
  try {
    const response = await postJSON("/answer", { scene, palette }, signal);
    await events(response, (kind, data) => {
      if (signal.aborted) return;
      if (kind === "progress") showProgress(data);
      else if (kind === "queue") byId("progress").textContent = inLine(data.before);
      else if (kind === "turn") byId("progress").textContent = "working it out…";
      else if (kind === "stopped") { asked = ""; byId("progress").textContent = ""; say(data); }
      else if (kind === "trouble") clear(data);
      else show(kind, data, palette);
    });
  } catch (err) {
    if (!signal.aborted) { clear(err.message); asked = ""; }
  }
}

function clear(text) {
  byId("result").replaceChildren();
  delete byId("result").dataset.answer;
  byId("answer-do").hidden = true;
  byId("progress").textContent = text;
  tell(false);
}

// question is the scene without what the answer does not depend on.
export function question() {
  const s = state();
  return {
    title: s.title, tolerance: s.tolerance, light: s.light, surface: s.surface, limits: s.limits, photos: [],
    targets: s.targets.map(({ name, colour, plane, area, tolerance }) => ({ name, colour, plane, area, tolerance })),
  };
}

function showProgress({ atLeast, atMost, cuts }) {
  const text = atMost ? `at least ${atLeast}, at most ${atMost} tubes` : `at least ${atLeast} tubes`;
  byId("progress").replaceChildren(el("span", { className: "bound" }, text), cuts ? ` ${cuts} needs found` : "");
}

function show(kind, { html, tubes }, palette) {
  const box = byId("result");
  const scrolled = byId("answer").parentElement.scrollTop;
  const held = document.activeElement?.dataset?.show;
  place(box, html);
  box.dataset.answer = tubes.join();
  box.dataset.stage = kind;
  byId("progress").textContent = "";
  shown = tubes;
  byId("answer-do").hidden = shown.length === 0;
  byId("back").hidden = palette.length === 0;
  if (kind === "answer" && shown.length) paletteChanged(shown);
  tell(true);
  offerOthers(box);
  byId("answer").parentElement.scrollTop = scrolled;
  if (held) box.querySelector(`[data-show="${CSS.escape(held)}"]`)?.focus();
}

// offerOthers puts buttons beside every other palette that show it in full or
// hold it for comparing.
export function offerOthers(box) {
  box.querySelectorAll("tr[data-palette]").forEach((row) => {
    const tubes = row.dataset.palette.split(",");
    const words = row.cells[0].textContent;
    const look = el("button", { type: "button", "aria-label": `Show: ${words}`, onclick: () => { ask(tubes); byId("answer-h").focus(); } }, "Show");
    look.dataset.show = row.dataset.palette;
    row.cells[0].append(el("span", { className: "acts" }, look,
      el("button", { type: "button", "aria-label": `Hold to compare: ${words}`, onclick: () => hold(tubes) }, "Hold")));
  });
}
