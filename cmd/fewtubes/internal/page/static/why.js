// Why these tubes: the whole report, and the curve.
import { answer, asked, on } from "./store.js";
import { el, place, say } from "./dom.js";
import { workJSON } from "./server.js";

let report;
let curve;

export function setUp(root) {
  report = el("div", { className: "report" });
  curve = el("div", { className: "report" });
  root.append(el("h2", {}, "Why these tubes"), report, el("button", { type: "button", onclick: draw }, "Draw the curve"), curve);
  on("answer", fill);
}

export const show = () => fill();

function fill() {
  if (answer()?.html) place(report, answer().html);
  else report.replaceChildren();
}

async function draw() {
  try {
    const { html } = await workJSON("/curve", { scene: asked() }, (words) => say(words || "following the curve; this takes a while…", true));
    say("");
    place(curve, html);
  } catch (err) {
    say(err.message);
  }
}
