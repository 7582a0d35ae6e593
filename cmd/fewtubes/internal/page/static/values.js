// Values: the picture in few of them, a painting beside it, the air between the planes,
// and the scene fitted to the palette.
import { scene, act } from "./store.js";
import { el, say } from "./dom.js";
import { postBytes } from "./server.js";
import { ask, again, button, capital, picture, square, toggles } from "./hands.js";

let plan, board, air;
let levels = 3, of = "", painting;

export function setUp(root) {
  root.append(el("h2", {}, "Values"), plan = el("section", { className: "part" }), board = el("section", { className: "part" }), air = el("section", { className: "part" }));
  const file = el("input", { type: "file", accept: "image/*,.heic,.heif", hidden: true, "aria-label": "a photograph of the painting", onchange: bring });
  board.append(el("div", { className: "acts" }, button("Compare my painting", () => file.click()), button("Do the planes recede?", recede), button("Set them as far off as they lie", putBack), button("Fit the scene to these tubes", fit)), file);
}

export async function show() {
  if (!scene().photos.some((p) => p.id === of)) of = scene().photos.find((p) => p.id)?.id ?? "";
  if (!scene().targets.length && !of) return again(plan, el("p", { className: "soft" }, "A plan is made of a photograph, or of the colours of the scene."));
  const photos = scene().photos.filter((p) => p.id);
  const got = await ask("/values", { levels, photo: of });
  if (!got) return;
  again(plan, el("div", { className: "acts" }, toggles("values in the plan", ["2", "3", "4", "5"], String(levels), (n) => { levels = Number(n); show(); }),
    photos.length ? toggles("of what", [...photos.map((p) => p.name), "the colours"], photos.find((p) => p.id === of)?.name ?? "the colours", (n) => { of = photos.find((p) => p.name === n)?.id ?? ""; show(); }) : null),
  el("div", { className: "plans" }, el("figure", {}, picture(got.picture, "in greys"), el("figcaption", {}, "in greys")),
    ...got.plans.map((p) => el("figure", {}, picture(p.picture, p.name), el("figcaption", {}, el("b", {}, capital(p.name)), p.together ? "" : el("span", { className: "soft" }, " not one large dark and one large light"),
      el("ul", {}, ...p.levels.map((l) => el("li", {}, square(l.hex), ` ${l.value}, ${l.share} % `, el("small", {}, l.from ? `from ${l.from} up` : "from the dark end")))),
      el("small", {}, `largest dark ${p.dark} %, largest light ${p.light} %`))))));
}

async function bring(e) {
  const file = e.target.files[0];
  e.target.value = "";
  if (!file || !of) return say("Choose a photograph of the scene as the reference first.");
  try {
    painting = (await (await postBytes(`/photo?name=${encodeURIComponent(file.name)}`, file)).json()).id;
  } catch (err) {
    return say(err.message);
  }
  const got = await ask("/board", { photo: of, painting });
  if (got) again(air, el("h3", {}, "The painting beside its reference"), el("div", { className: "wide-picture" }, picture(got.picture, "reference and painting in greys and in few values")), ...got.lines.map((l) => el("p", {}, l)));
}

// changed shows what a law or a fit would make of the colours, and does it in one tap.
function changed(title, got, act_, words) {
  const drawn = got.picture ? new DOMParser().parseFromString(got.picture, "image/svg+xml").documentElement : null;
  drawn?.setAttribute("role", "img");
  again(air, el("h3", {}, title), ...got.lines.map((l) => el("p", {}, l)), drawn ? el("div", { className: "wide-picture" }, drawn) : null,
    el("ul", { className: "rows" }, ...got.moved.map((m) => el("li", {}, square(m.from), "→", square(m.to), el("span", {}, m.name, el("small", {}, ` ${m.words}`))))),
    got.moved.length ? el("p", {}, button(words, () => act(act_, (s) => {
      for (const t of got.targets) Object.assign(s.targets.find((o) => o.name === t.name) ?? {}, { colour: t.colour, hex: t.hex, words: t.words, value: t.value, ...(t.seen ? { seen: t.seen } : {}) });
    }), { className: "main" })) : null);
  air.scrollIntoView({ block: "nearest" });
}

async function recede() {
  const got = await ask("/recession");
  if (got) changed("The air between the planes", got, "set colours as the air has them", "Take these as the air has them");
}

async function putBack() {
  const got = await ask("/air");
  if (got) changed("As far off as their planes", got, "moved colours to their planes", "Move them");
}

async function fit() {
  const got = await ask("/fit", {}, "Pressing colours into reach.");
  if (got) changed("Fitted to these tubes", got, "fitted the scene to the tubes", "Take the fitted colours");
}
