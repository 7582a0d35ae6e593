// My box: the catalogue as swatches, each tube free, owned, a must or never.
import { scene, act, on } from "./store.js";
import { el } from "./dom.js";
import { catalogue } from "./tubes.js";

const roles = [["", "may be chosen"], ["own", "I have it"], ["keep", "must be in"], ["never", "never"]];
let all = [];
let cards;
let find;

export async function setUp(root) {
  const got = await catalogue();
  all = got.tubes;
  find = el("input", { type: "search", name: "text", oninput: draw });
  cards = el("ul", { className: "cards" });
  root.append(el("h2", {}, "My box"), el("label", { className: "field" }, "find a tube ", find), cards, el("p", { className: "soft" }, got.safety));
  on("scene", () => { if (!root.hidden) draw(); });
}

export const show = () => draw();

function draw() {
  const text = find.value.trim().toLowerCase();
  const held = document.activeElement?.dataset?.tube;
  cards.replaceChildren(...all.filter((t) => !text || `${t.name} ${t.id} ${t.pigments.join(" ")}`.toLowerCase().includes(text)).map(card));
  if (held) cards.querySelector(`[data-tube="${CSS.escape(held)}"]`)?.focus();
}

function card(t) {
  const { limits } = scene();
  const role = roles.find(([key]) => key && (limits[key] ?? []).includes(t.id))?.[0] ?? "";
  const choice = el("select", { "aria-label": `${t.name} in the palette`, onchange: (e) => setRole(t, e.target.value) },
    ...roles.map(([key, words]) => el("option", { value: key, selected: key === role }, words)));
  choice.dataset.tube = t.id;
  const minded = [...t.hazards, ...t.fails];
  return el("li", {},
    el("span", { className: "mount" }, el("span", { className: "sw", fill: t.masstone }), el("span", { className: "sw", fill: t.tint })),
    el("div", {},
      el("b", {}, t.name),
      el("span", { className: "soft" }, `${t.pigments.join(" + ")}, ${t.price.toFixed(2)}, ${t.basis}`),
      el("details", {}, el("summary", {}, minded.length ? `mind ${minded.join(", ")}` : "cautions"), el("p", {}, `${t.caution} ${t.lasting} ${t.opacity}, lightfastness ${t.lightfastness}, dries ${t.drying}; ${t.words}, value ${t.value}.`)),
      choice));
}

function setRole(t, role) {
  act(`${t.name}: ${roles.find(([key]) => key === role)[1]}`, (s) => {
    for (const [key] of roles.slice(1)) {
      const rest = (s.limits[key] ?? []).filter((o) => o !== t.id);
      s.limits[key] = key === role ? [...rest, t.id] : rest;
    }
  });
}
