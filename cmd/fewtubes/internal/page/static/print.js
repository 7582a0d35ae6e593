// Print: sheets, cards for the phone, and a colour at a time in large type.
import { scene, chosen, choose, target, mixed } from "./store.js";
import { el, say } from "./dom.js";
import { work } from "./server.js";
import { again, button, capital, keep, palette, save, square, toggles } from "./hands.js";

let root, large;
let paper = "A4", white = true;

export function setUp(place) {
  root = place;
  large = el("dialog", { id: "large", "aria-label": "In large type" });
  document.body.append(large);
  large.addEventListener("keydown", (e) => { const d = { ArrowLeft: -1, ArrowRight: 1 }[e.key]; if (d) turn(d); });
}

const sheets = () => [
  ["Lid card", "picture, tubes and all recipes on one side, for the lid of the box", () => keep("lid.pdf", "/lid")],
  ["Class sheets", "plan and practice, two sides", () => keep("class.pdf", "/handout", { paper, levels: 3 })],
  ["Practice chart", "pairs, tints and greens of these tubes, to paint beside", chart],
  ["Swatches to learn from", "the six mixtures that would teach most about your tubes", () => keep("swatches-to-learn-from.pdf", "/learn", { paper, seenBy: "chip" })],
  ["Pocket cards", "a picture for each colour, for the phone: any gallery shows them without this program", () => keep("pocket.zip", "/pocket")],
  ["The answer", "the page as it stands", () => print()],
  ["In large type", "a colour at a time, for class and outdoors", () => { show1(chosen() || scene().targets[0].name); large.showModal(); }],
];

export function show() {
  again(root, el("h2", {}, "Print"),
    palette().length ? [toggles("paper", ["A4", "Letter"], paper, (n) => { paper = n; show(); }),
      el("ul", { className: "rows" }, ...sheets().map(([words, what, act]) => el("li", {}, button(words, act, { className: "main" }), el("span", {}, what))))] : el("p", { className: "soft" }, "First comes a palette; then its sheets."));
}

async function chart() {
  try {
    save(await work(`/chart.pdf?paper=${paper}&palette=${palette().join()}`, {}, (words) => say(words, true)), "practice-chart.pdf");
  } catch (err) {
    say(err.message);
  }
}

const turn = (d) => { const all = scene().targets; show1(all[(all.indexOf(target()) + d + all.length) % all.length].name); };

function show1(name) {
  choose(name);
  const all = scene().targets, t = target(name), m = mixed(name), i = all.indexOf(t);
  const near = (d) => all[(i + d + all.length) % all.length].name;
  large.classList.toggle("black", !white);
  again(large, el("div", { className: "acts" }, button("Leave", () => large.close()), el("span", {}, `${i + 1} of ${all.length}`), button(white ? "White on black" : "Black on white", () => { white = !white; show1(name); })),
    el("h2", {}, t.name),
    el("div", { className: "mount" }, el("span", { className: "sw", fill: t.hex }), m ? el("span", { className: "sw", fill: m.mixed }) : null),
    m ? el("ul", {}, ...m.parts.map((p) => el("li", {}, square(p.hex), el("b", {}, p.count), el("span", {}, capital(p.paint), p.note ? el("small", {}, p.note) : null)))) : null,
    m && !m.within ? el("p", {}, el("b", {}, "Out of reach: "), m.miss) : null,
    el("div", { className: "acts turn" }, button(`‹ ${near(-1)}`, () => turn(-1)), button(`${near(1)} ›`, () => turn(1))));
}
