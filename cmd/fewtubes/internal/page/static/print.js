// Print: the answer, and the sheets.
import { answer } from "./store.js";
import { el } from "./dom.js";

let chart;

export function setUp(root) {
  chart = el("a", { className: "button", href: "#print", download: "practice-chart.pdf" }, "Practice chart");
  root.append(el("h2", {}, "Print"), el("button", { type: "button", onclick: () => print() }, "The answer"), chart);
}

export function show() {
  const tubes = answer()?.tubes?.map((t) => t.id).join() ?? "";
  chart.hidden = !tubes;
  chart.href = `/chart.pdf?paper=A4&palette=${encodeURIComponent(tubes)}`;
}
