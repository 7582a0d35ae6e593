// Print: sheets, cards for the phone, and a colour at a time in large type.
import { scene, chosen, choose, target, mixed } from "./store.js";
import { el } from "./dom.js";
import { work } from "./server.js";
import { acts, again, b, button, capital, choices, grow, h2, keep, mount, p, palette, rows, save, small, soft, square, tried } from "./hands.js";

let root, large;
let paper = "A4", black = false;

export function setUp(place) {
  root = place;
  large = el("dialog", { id: "large", "aria-label": "In large type", onkeydown: (e) => { const d = { ArrowLeft: -1, ArrowRight: 1 }[e.key]; if (d) turn(d); } });
  document.body.append(large);
}

const sheets = [
  ["Lid card", "picture, tubes and all recipes on one side, for the lid of the box", () => keep("lid.pdf", "/lid")],
  ["Class sheets", "plan and practice, two sides", () => keep("class.pdf", "/handout", { paper, levels: 3 })],
  ["Practice chart", "pairs, tints and greens of these tubes, to paint beside", chart],
  ["Swatches to learn from", "the six mixtures that would teach most about your tubes", () => keep("swatches-to-learn-from.pdf", "/learn", { paper, seenBy: "chip" })],
  ["Pocket cards", "pictures for the phone, one for each colour: any gallery shows them", () => keep("pocket.zip", "/pocket")],
  ["In large type", "a colour at a time, for class and outdoors", () => { turn(0); large.showModal(); }],
  ["This page", "as it stands", () => print()],
];

export function show() {
  again(root, h2("Print"), palette().length ? [choices("paper", ["A4", "Letter"], paper, (n) => { paper = n; show(); }),
    rows(sheets, ([words, what, f]) => [button(words, f), grow(what)])] : soft("First comes a palette; then its sheets."));
}

async function chart() {
  const file = await tried((told) => work(`/chart.pdf?paper=${paper}&palette=${palette().join()}`, {}, told), "Drawing it.");
  if (file) save(file, "practice-chart.pdf");
}

// turn shows the colour so many further on.
function turn(d) {
  const all = scene().targets, near = (k) => all[(Math.max(0, all.indexOf(target())) + k + all.length) % all.length];
  choose(near(d).name);
  const t = target(chosen()), m = mixed(chosen());
  large.classList.toggle("black", black);
  again(large, acts(button("Leave", () => large.close()), `${all.indexOf(t) + 1} of ${all.length}`, button(black ? "Black on white" : "White on black", () => { black = !black; turn(0); })),
    h2(t.name), mount(el("span", { className: "sw", fill: t.hex }), m && el("span", { className: "sw", fill: m.mixed })),
    m && rows(m.parts, (x) => [square(x.hex), el("b", { className: x.parts < 1 ? "few" : "" }, x.count), grow(capital(x.paint), small(x.note))]),
    m && !m.within && p(b("Out of reach: "), m.miss),
    acts(button(`‹ ${near(-1).name}`, () => turn(-1)), button(`${near(1).name} ›`, () => turn(1))));
}
