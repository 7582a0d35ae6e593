// Why these tubes: what each colour asks for, how sure the palette is, the curve, the
// proof, and the whole report.
import { act, answer, asked, on } from "./store.js";
import { el, place } from "./dom.js";
import { go } from "./places.js";
import { acts, again, ask, b, button, capital, folded, grow, h2, h3, mount, p, palette, rows, save, small, soft, square } from "./hands.js";

let needs, more, report, from;

export function setUp(root) {
  [needs, more] = [el("section"), el("section", { tabIndex: -1 })];
  report = el("div", { className: "report" });
  const whole = folded("The whole report", report);
  whole.addEventListener("toggle", fill);
  root.append(h2("Why these tubes"), acts(button("How sure", sure), button("What each tube buys", curve), button("Prove it", prove)), more, needs, whole);
  on("answer", () => root.hidden || show());
}

const about = () => ({ scene: asked(), palette: answer().checked ?? [] });

export async function show() {
  fill();
  const now = answer() && JSON.stringify(about());
  if (now === from || !palette().length) return;
  from = now;
  again(more);
  const why = await ask("/why", about());
  if (why && from === now) draw(why);
}

function fill() {
  if (report.parentNode.open) place(report, answer()?.html ?? "");
}

function said(...nodes) {
  again(more, ...nodes);
  more.scrollIntoView({ block: "nearest" });
}

const strip = (tubes, struck) => mount(tubes.map((t) => square(t.hex, t.name, struck?.(t) ? "struck" : "")));
const take = ({ ids }) => act(`took ${ids.length} ${ids.length === 1 ? "tube" : "tubes"}`, (s) => {
  s.limits = { ...s.limits, keep: ids, maxTubes: ids.length };
  for (const limit of ["budget", "never"]) delete s.limits[limit];
});
const taking = (one, words) => [grow(strip(one.tubes), small(one.tubes.map((t) => t.name).join(", "))), words,
  button("Take it", () => { take(one); go(""); }, { "aria-label": `Take ${one.tubes.map((t) => t.name).join(", ")}` })];

function draw(why) {
  again(needs, p(why.proof),
    why.needs.length && [soft("Each colour asks for one of the tubes beside it; those not in the palette are struck through."),
      rows(why.needs, (n) => [el("span", { className: "of" }, n.target, small(`without: ${n.without}`)), n.times > 1 && b(`× ${n.times}`), grow(strip(n.oneOf, (t) => !palette().includes(t.id)))]),
      p(b(why.count))],
    folded("What each tube is there for", rows(why.reasons, (r) => [grow(b(capital(r.tube)), small(r.words))])),
    why.palettes.length > 1 && folded(`${why.palettes.length - 1} others as small`, rows(why.palettes.slice(1), (one) => taking(one, one.price.toFixed(2)))));
}

async function sure() {
  const s = await ask("/sure", about(), "Trying it in 500 plausible boxes.");
  if (!s) return;
  const { draws, targets } = s.doubt;
  const fails = (t) => (draws - t.holds) / draws;
  const bar = (t) => { const of = el("span", { className: "share" }); of.style.setProperty("--share", fails(t)); return of; };
  said(h3("How sure"), p(s.words),
    rows(targets.filter(fails).sort((x, y) => x.holds - y.holds), (t) => [grow(t.name), bar(t), `fails in ${(100 * fails(t)).toFixed(0)} %`]),
    h3("What to swatch first"), p(s.reading || "No one swatch would make it much surer."),
    folded("Where each recipe lands, measured to the letter", rows(s.landings, (l) => [grow(l.name, small(`half within ${l.median_de.toFixed(1)}, nine in ten within ${l.nine_de.toFixed(1)}; ${l.words ? `${l.words}; ` : ""}${s.names[l.last]} last, by sight`))])));
}

async function curve() {
  const c = await ask("/curve", about(), "Following the curve; this takes a while.");
  if (!c) return;
  const told = el("div", { ariaLive: "polite" });
  const look = (one) => told.replaceChildren(rows([one], () => taking(one, `${one.n} ${one.n === 1 ? "tube" : "tubes"}, ${one.price.toFixed(2)}: every colour within ${one.tolerance.toFixed(2)}`)));
  const dots = (words, points, across) => {
    const xs = points.map(across), [least, most, high] = [Math.min(...xs), Math.max(...xs), Math.max(...points.map((one) => one.tolerance))];
    return el("div", {}, h3(words), el("div", { className: "curve" }, ...points.map((one, i) => button(el("span", {}, String(one.n)), () => look(one), {
      place: [(xs[i] - least) / (most - least || 1), 1 - one.tolerance / high], className: one.knee ? "knee" : "", onfocus: () => look(one),
      "aria-label": `${one.n} tubes, price ${one.price.toFixed(2)}: within ${one.tolerance.toFixed(2)}` }))));
  };
  said(h3("What each tube buys"), c.words.map((w) => p(w)), soft("The lower a dot, the nearer its tubes come to every colour at once. Touch one to see its palette and take it."),
    el("div", { className: "curves" }, dots("By number of tubes", c.points, (one) => one.n), dots("By price", c.prices, (one) => one.price)), told);
}

async function prove() {
  const file = await ask("/proof", about(), "Proving it, ten to twenty seconds:");
  if (!file) return;
  said(p("The theorem in words and all of its proof are in proof.zip: unpack it, and fewtubes proof verifies it."));
  save(file, "proof.zip");
}
