// The catalogue as swatches, filtered, each tube free, owned, a must or never.
import { state, change } from "./state.js";
import { byId, el } from "./dom.js";
import { getJSON } from "./server.js";
import { setClasses } from "./limits.js";

let all = [];
const roles = [["", "may be chosen"], ["own", "I have it"], ["keep", "must be in"], ["never", "never"]];

export async function setUpTubes() {
  const got = await getJSON("/tubes");
  all = got.tubes;
  byId("safety").textContent = got.safety;
  setClasses(got.classes);
  const filter = byId("filter").elements;
  fillOptions(filter.hue, new Set(all.map((t) => t.hue)));
  fillOptions(filter.hazard, new Set(all.flatMap((t) => t.hazards)));
  byId("filter").addEventListener("input", drawTubes);
  byId("filter").addEventListener("submit", (e) => e.preventDefault());
}

export const tube = (id) => all.find((t) => t.id === id);

function fillOptions(select, words) {
  select.append(...[...words].sort().map((w) => el("option", {}, w)));
}

function wanted(t) {
  const f = byId("filter").elements;
  const text = f.text.value.trim().toLowerCase();
  const value = Number(t.value);
  return (!text || `${t.name} ${t.id} ${t.pigments.join(" ")}`.toLowerCase().includes(text))
    && (!f.hue.value || t.hue === f.hue.value)
    && (!f.value.value || f.value.value === (value < 3.5 ? "dark" : value <= 6.5 ? "mid" : "light"))
    && (!f.hazard.value || (f.hazard.value === "none" ? t.hazards.length === 0 : t.hazards.includes(f.hazard.value)))
    && (!f.opacity.value || t.opacity === f.opacity.value)
    && (!f.basis.value || t.basis === f.basis.value);
}

export function drawTubes() {
  const shown = all.filter(wanted);
  byId("filter-count").textContent = `${shown.length} of ${all.length} tubes`;
  const held = document.activeElement?.dataset?.tube;
  byId("cards").replaceChildren(...shown.map(card));
  if (held) byId("cards").querySelector(`[data-tube="${CSS.escape(held)}"]`)?.focus();
}

function card(t) {
  const { limits } = state();
  const role = roles.find(([key]) => key && (limits[key] ?? []).includes(t.id))?.[0] ?? "";
  const choice = el("select", { "aria-label": `${t.name} in the palette`, onchange: (e) => setRole(t.id, e.target.value) },
    ...roles.map(([key, words]) => el("option", { value: key, selected: key === role }, words)));
  choice.dataset.tube = t.id;
  const minded = [...t.hazards, ...t.fails];
  const mind = minded.length ? `mind ${minded.join(", ")}` : "cautions";
  return el("li", {},
    el("span", { className: "mount" }, el("span", { className: "sw", fill: t.masstone }), el("span", { className: "sw", fill: t.tint })),
    el("div", {},
      el("b", {}, t.name),
      el("span", { className: "soft" }, `${t.pigments.join(" + ")}, ${t.price.toFixed(2)}, ${t.basis}`),
      el("details", {}, el("summary", {}, mind), el("p", {}, `${t.caution} ${t.lasting} ${t.opacity}, lightfastness ${t.lightfastness}, dries ${t.drying}; ${t.words}, value ${t.value}.`)),
      choice));
}

function setRole(id, role) {
  change((s) => {
    for (const [key] of roles.slice(1)) {
      const rest = (s.limits[key] ?? []).filter((o) => o !== id);
      s.limits[key] = key === role ? [...rest, id] : rest;
    }
  });
}
