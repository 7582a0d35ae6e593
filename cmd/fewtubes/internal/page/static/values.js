// Values: the picture in few of them, a painting beside it, the air between the planes,
// and the scene fitted to the palette.
import { scene, act } from "./store.js";
import { el, say } from "./dom.js";
import { acts, again, ask, b, button, capital, choices, grow, h2, h3, p, picture, rows, small, soft, square, upload } from "./hands.js";

let plan, out;
let levels = 3, of = "", hue = "measured";

export function setUp(root) {
  const file = el("input", { type: "file", accept: "image/*,.heic,.heif", hidden: true, onchange: compare });
  root.append(h2("Values"), plan = el("section"), acts(button("Compare my painting", () => file.click()), button("Do the planes recede?", recede), button("Set them as far off as they lie", putBack), button("Fit the scene to these tubes", fit)), file, out = el("section"));
}

export async function show() {
  const photos = scene().photos.filter((one) => one.id);
  if (of !== "-" && !photos.some((one) => one.id === of)) of = photos[0]?.id ?? "-";
  if (of === "-" && !scene().targets.length) return again(plan, soft("A plan is made of a photograph, or of the colours of the scene."));
  const got = await ask("/values", { levels, photo: of === "-" ? "" : of });
  if (!got) return;
  const names = [...photos.map((one) => one.name), "the colours"], ids = [...photos.map((one) => one.id), "-"];
  const figure = (png, words, ...more) => el("figure", {}, picture(png, words), el("figcaption", {}, ...more));
  again(plan, acts(choices("values in the plan", ["2", "3", "4", "5"], String(levels), (n) => { levels = Number(n); show(); }), choices("of what", names, names[ids.indexOf(of)], (n) => { of = ids[names.indexOf(n)]; show(); })),
    el("div", { className: "plans" }, figure(got.picture, "in greys", b("In greys")), ...got.plans.map((one) => figure(one.picture, one.name, b(capital(one.name)),
      rows(one.levels, (l) => [square(l.hex), grow(`${l.value}, ${l.share} %`, small(l.from ? `from ${l.from} up` : "from the dark end"))]),
      small(`largest dark ${one.dark} %, largest light ${one.light} %${one.together ? "" : ": not one large dark and one large light"}`)))));
}

function told(title, lines, ...more) {
  again(out, h3(title), lines.map((l) => p(l)), more);
  out.scrollIntoView({ block: "nearest" });
}

async function compare(e) {
  const painting = e.target.files[0] && await upload(e.target.files[0]);
  e.target.value = "";
  if (!painting) return;
  if (of === "-") { say("Choose a photograph of the scene above as the reference."); return; }
  const got = await ask("/board", { photo: of, painting }, "Laying one over the other.");
  if (got) told("The painting beside its reference", got.lines, el("div", { className: "drawing" }, picture(got.picture, "reference and painting in greys and in few values")));
}

// changed shows what a law or a fit makes of the colours, and does it in one tap.
function changed(title, got, did, words, ...before) {
  if (!got) return;
  const drawn = got.picture && new DOMParser().parseFromString(got.picture, "image/svg+xml").documentElement;
  drawn?.setAttribute?.("role", "img");
  told(title, got.lines, before, drawn && el("div", { className: "drawing" }, drawn),
    rows(got.moved, (m) => [square(m.from), "→", square(m.to), grow(m.name, small(m.words))]),
    got.moved.length && button(words, () => again(out) ?? act(did, (s) => {
      for (const { name, colour, hex, words, value, seen } of got.targets) Object.assign(s.targets.find((t) => t.name === name) ?? {}, { colour, hex, words, value, ...(seen && { seen }) });
    }), { className: "main" }));
}

async function recede() {
  changed("The air between the planes", await ask("/recession", { hue }), "set colours as the air has them", "Take these as the air has them",
    choices("distant hues", ["measured", "seen"], hue, (n) => { hue = n; recede(); }));
}

const putBack = async () => changed("As far off as their planes", await ask("/air", { hue }), "moved colours to their planes", "Move them");
const fit = async () => changed("Fitted to these tubes", await ask("/fit", {}, "Pressing colours into reach."), "fitted the scene to the tubes", "Take the fitted colours");
