// Why these tubes: what each colour asks for, how sure the palette is, the curve, the
// proof, and the whole report.
import { answer, asked, on } from "./store.js";
import { el, place } from "./dom.js";
import { ask as answerAnew } from "./ask.js";
import { go } from "./places.js";
import { ask, again, button, capital, palette, save, square } from "./hands.js";

let parts, report, from;

export function setUp(root) {
  parts = Object.fromEntries(["needs", "doing", "more"].map((n) => [n, el("section", { id: `why-${n}`, className: "part" })]));
  report = el("div", { className: "report" });
  const whole = el("details", {}, el("summary", {}, "The whole report"), report);
  whole.addEventListener("toggle", fill);
  root.append(el("h2", {}, "Why these tubes"), ...Object.values(parts), whole);
  parts.doing.append(el("div", { className: "acts" }, button("How sure", sure), button("What each tube buys", curve), button("Prove it", prove)));
  on("answer", () => { if (!root.hidden) show(); });
}

export async function show() {
  fill();
  const now = JSON.stringify([palette(), asked().limits]);
  if (now === from || !palette().length) return;
  from = now;
  again(parts.more);
  const why = await ask("/why", { scene: asked(), palette: answer().checked ?? [] });
  if (why && from === now) draw(why);
}

function fill() {
  if (report.parentNode.open) place(report, answer()?.html ?? "");
}

const take = (ids) => { answerAnew(ids); go(""); };
const strip = (tubes) => el("span", { className: "mount strip" }, ...tubes.map((t) => square(t.hex, t.name)));
const taking = (p, words) => el("li", {}, strip(p.tubes), el("span", {}, words), button("Take it", () => take(p.ids), { "aria-label": `Take ${p.tubes.map((t) => t.name).join(", ")}` }));

function draw({ proof, count, needs, palettes, reasons }) {
  again(parts.needs,
    el("p", {}, proof),
    needs.length ? [el("p", { className: "soft" }, "Each colour below asks for one of the tubes beside it; those that are not in the palette are struck through."),
      el("ul", { className: "rows needs" }, ...needs.map((n) => el("li", {}, el("span", {}, n.target, n.times > 1 ? el("b", {}, ` counts ${n.times} times`) : null, el("small", {}, ` without: ${n.without}`)),
        el("span", { className: "mount strip" }, ...n.oneOf.map((t) => square(t.hex, t.name, palette().includes(t.id) ? "" : "struck")))))),
      el("p", {}, el("b", {}, count))] : null,
    reasons.length ? el("details", {}, el("summary", {}, "What each tube is there for"), el("dl", { className: "reasons" }, ...reasons.map((r) => [el("dt", {}, capital(r.tube)), el("dd", {}, r.words)]).flat())) : null,
    palettes.length > 1 ? el("details", {}, el("summary", {}, `${palettes.length - 1} other palettes as small`), el("ul", { className: "rows" }, ...palettes.slice(1).map((p) => taking(p, p.price.toFixed(2))))) : null);
}

async function sure() {
  const s = await ask("/sure", { scene: asked(), palette: answer().checked ?? [] }, "Trying it in 500 plausible boxes.");
  if (!s) return;
  const { draws, targets } = s.doubt;
  const weak = targets.filter((t) => t.holds < draws).sort((a, b) => a.holds - b.holds);
  const bar = (n) => { const b = el("span", { className: "share" }); b.style.setProperty("--share", n / draws); return b; };
  again(parts.more, el("h3", {}, "How sure"), el("p", {}, s.words),
    weak.length ? el("ul", { className: "rows" }, ...weak.map((t) => el("li", {}, el("span", {}, t.name), bar(draws - t.holds), el("span", { className: "soft" }, `fails in ${(100 * (draws - t.holds) / draws).toFixed(0)} %`)))) : null,
    el("h3", {}, "What to swatch first"), el("p", {}, s.reading || "No one swatch would make it much surer."),
    el("ul", { className: "rows" }, ...s.readings.slice(0, 5).map((r) => el("li", {}, el("span", {}, capital(s.names[r.tube])), el("span", { className: "soft" }, `known as it stands here: holds in ${r.holds} of ${draws}`)))),
    el("details", {}, el("summary", {}, "Where each recipe lands, measured to the letter"),
      el("ul", { className: "rows" }, ...s.landings.map((l) => el("li", {}, el("span", {}, l.name), el("span", { className: "soft" }, `half within ${l.median_de.toFixed(1)}, nine in ten within ${l.nine_de.toFixed(1)}${l.words ? `; ${l.words}` : ""}; ${s.names[l.last]} last`))))));
}

async function curve() {
  const c = await ask("/curve", { scene: asked() }, "Following the curve; this takes a while.");
  if (!c) return;
  const dots = (points, across, words) => {
    const [most, least, high] = [Math.max(...points.map(across)), Math.min(...points.map(across)), Math.max(...points.map((p) => p.tolerance))];
    const of = (p) => [(across(p) - least) / (most - least || 1), 1 - p.tolerance / high];
    return [el("h3", {}, words), el("div", { className: "curve" }, ...points.map((p) => el("button", { type: "button", place: of(p), className: p.knee ? "knee" : "", "aria-label": `${p.n} tubes, price ${p.price.toFixed(2)}: within ${p.tolerance.toFixed(2)}`, onclick: () => chosen(p), onfocus: () => chosen(p) }, el("span", {}, String(p.n)))))];
  };
  const told = el("ul", { className: "rows", "aria-live": "polite" });
  const chosen = (p) => told.replaceChildren(taking(p, `${p.n} tubes, ${p.price.toFixed(2)}: every colour within ${p.tolerance.toFixed(2)}`));
  again(parts.more, el("h3", {}, "What each tube buys"), ...c.words.map((w) => el("p", {}, w)),
    el("p", { className: "soft" }, "The lower a dot, the nearer its tubes come to every colour at once. Touch one to see and take its palette."),
    el("div", { className: "curves" }, ...[dots(c.points, (p) => p.n, "By number of tubes"), dots(c.prices, (p) => p.price, "By price")].map((d) => el("div", {}, ...d))), told);
}

async function prove() {
  const file = await ask("/proof", { scene: asked(), palette: answer().checked ?? [] }, "Proving it, ten to twenty seconds:");
  if (!file) return;
  again(parts.more, el("p", {}, "The theorem in words and all of its proof, in a folder: unpack it, and fewtubes proof verifies it."));
  save(file, "proof.zip");
}
