// Pack: how much of each tube a picture takes.
import { answer, on } from "./store.js";
import { el } from "./dom.js";
import { again, ask, acts, b, capital, counter, folded, grow, h2, p, palette, rows, small, soft, square } from "./hands.js";

let root;
const size = { wide: 40, high: 30, coats: 1 };

export function setUp(place) {
  root = place;
  on("answer", () => root.hidden || show());
}

export async function show() {
  if (!palette().length) return again(root, h2("Pack"), soft("First comes a palette; then what of it a picture takes."));
  const plan = await ask("/pack", { size: [size.wide, size.high], coats: size.coats });
  if (!plan) return;
  const tube = (id) => answer().tubes.find((t) => t.id === id);
  const bounds = { wide: [5, 300, 5], high: [5, 300, 5], coats: [1, 9, 1] };
  const set = (words) => (d) => {
    const [least, most, by] = bounds[words];
    size[words] = Math.min(most, Math.max(least, size[words] + d * by));
    show();
  };
  const more = (words, lines) => lines?.length && folded(words, lines.map((l) => p(l)));
  again(root, h2("Pack"),
    acts(Object.keys(size).map((words) => el("span", { className: "amount" }, words, counter(words, `${size[words]}${words === "coats" ? "" : " cm"}`, set(words))))),
    p(b(`${plan.total_ml} ml from the tubes, ${plan.total_g} g in all.`), ` On the picture lie ${plan.laid_ml} ml.`),
    rows(plan.tubes, (t) => [square(tube(t.id)?.masstone ?? "#777"), grow(t.name, small(`${t.take.map((k) => `${k.count} × ${k.size_ml} ml`).join(" + ")}, ${t.g} g`)), b(`${t.ml} ml`)]),
    plan.unused.length && p(b("Stays at home: "), plan.unused.map((id) => capital(tube(id)?.name ?? id)).join(", "), ". No recipe takes it."),
    plan.missed.length && soft(`Counted with the nearest mix, being out of reach: ${plan.missed.join(", ")}.`),
    plan.cautions.length && Object.assign(more("Cautions", plan.cautions), { open: true }), more("On the way", plan.travel), more("Drying order", plan.drying_order?.map((d) => `${capital(d.speed)} driers, ${d.where}: ${d.tubes.join(", ")}`)), more("Figures used", plan.common_practice));
}
