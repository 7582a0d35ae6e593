// Pack: how much of each tube a picture takes.
import { answer, on } from "./store.js";
import { el } from "./dom.js";
import { ask, again, capital, counter, palette, square } from "./hands.js";

let root;
let size = [40, 30], coats = 1;

export function setUp(place) {
  root = place;
  on("answer", () => { if (!root.hidden) show(); });
}

export async function show() {
  if (!palette().length) return again(root, el("h2", {}, "Pack"), el("p", { className: "soft" }, "First comes a palette; then what of it a picture takes."));
  const plan = await ask("/pack", { size, coats });
  if (!plan) return;
  const step = (i, by) => () => { size[i] = Math.min(300, Math.max(5, size[i] + by)); show(); };
  const tube = (id) => answer().tubes.find((t) => t.id === id);
  const list = (words, lines) => lines.length ? el("details", {}, el("summary", {}, words), el("ul", {}, ...lines.map((l) => el("li", {}, l)))) : null;
  again(root, el("h2", {}, "Pack"),
    el("div", { className: "acts sizes" }, ...["wide", "high"].map((words, i) => el("span", {}, words, " ", counter(words, `${size[i]} cm`, step(i, -5), step(i, 5)))),
      el("span", {}, "coats ", counter("coats", String(coats), () => { coats = Math.max(1, coats - 1); show(); }, () => { coats = Math.min(9, coats + 1); show(); }))),
    el("p", {}, el("b", {}, `${plan.total_ml} ml from the tubes, ${plan.total_g} g in all.`), ` On the picture lie ${plan.laid_ml} ml.`),
    el("ul", { className: "rows" }, ...plan.tubes.map((t) => el("li", {}, square(tube(t.id)?.masstone ?? "#777777"), el("span", {}, t.name, el("small", {}, ` ${t.take.map((k) => `${k.count} × ${k.size_ml} ml`).join(" + ")}, ${t.g} g`)), el("b", {}, `${t.ml} ml`)))),
    plan.unused.length ? el("p", {}, el("b", {}, "Stays at home: "), plan.unused.map((id) => capital(tube(id)?.name ?? id)).join(", "), ". No recipe takes it.") : null,
    plan.missed.length ? el("p", { className: "soft" }, `Counted with the nearest mix, being out of reach: ${plan.missed.join(", ")}.`) : null,
    list("Cautions", plan.cautions), list("On the way", plan.travel), list("Drying order", (plan.drying_order ?? []).map((d) => `${d.speed} driers, ${d.where}: ${d.tubes.join(", ")}`)), list("Figures used", plan.common_practice));
}
