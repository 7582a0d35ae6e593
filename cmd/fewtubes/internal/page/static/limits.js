// The limits: what the painter allows, by steppers and plain toggles.
import { scene, answer, boxed, act, on } from "./store.js";
import { byId, el } from "./dom.js";
import { catalogue, tube } from "./tubes.js";

const mostTubes = 12;
const step = 5; // of money
const toggles = [["cadmium", "no cadmium"], ["toxic", "no toxic pigment"], ["fugitive", "lasts in light"]];
let tubes, spend, buttons, only, more, strip;

// stepper is a number with - and +; at its end it is "any".
function stepper(label, lower, higher) {
  const out = el("output", {}, "any");
  const [less, plus] = [["−", `fewer: ${label}`, lower], ["+", `more: ${label}`, higher]].map(([sign, words, f]) => el("button", { type: "button", "aria-label": words, onclick: f }, sign));
  const node = el("div", { className: "stepper", role: "group", "aria-label": label }, el("span", { className: "label" }, label), el("span", { className: "steps" }, less, out, plus));
  return { node, draw: (value) => { out.textContent = value ?? "any"; } };
}

export function setUpLimits() {
  tubes = stepper("most tubes", () => setTubes(-1), () => setTubes(1));
  spend = stepper("spend", () => setSpend(-1), () => setSpend(1));
  tubes.node.id = "most-tubes";
  spend.node.id = "spend";
  buttons = toggles.map(([of, words]) => {
    const b = el("button", { type: "button", className: "toggle", onclick: () => avoid(of, words) }, words);
    b.dataset.avoid = of;
    return b;
  });
  only = el("button", { type: "button", className: "toggle", id: "only-box", onclick: onlyBox }, "only my box");
  more = el("button", { type: "button", className: "link", id: "more-limits", onclick: openMore }, "more");
  strip = el("a", { href: "#box", id: "my-box", "aria-label": "My box" }, "my box ", el("span", { className: "strip" }));
  byId("limits").append(tubes.node, spend.node, el("div", { className: "toggles" }, ...buttons, only), more, strip);
  on("scene", draw);
  on("box", draw);
  catalogue().then(draw, () => {});
}

function draw() {
  const { limits } = scene();
  tubes.draw(limits.maxTubes);
  spend.draw(limits.budget === undefined ? undefined : limits.budget.toFixed(limits.budget % 1 ? 2 : 0));
  for (const b of buttons) b.setAttribute("aria-pressed", String((limits.avoid ?? []).includes(b.dataset.avoid)));
  only.setAttribute("aria-pressed", String((limits.only ?? []).length > 0));
  const rest = (limits.avoid ?? []).filter((c) => !toggles.some(([of]) => of === c)).map((c) => `no ${c}`);
  if ((limits.prefer ?? "usual") !== "usual") rest.push(limits.prefer);
  more.textContent = rest.length ? `more: ${rest.join(", ")}` : "more";
  const owned = owns();
  strip.lastChild.replaceChildren(...owned.map((id) => el("span", { className: "sw", fill: tube(id)?.masstone, title: tube(id)?.name ?? id })));
  drawMore();
}

const owns = () => (boxed().length ? boxed() : scene().limits.own ?? []);

function setTubes(by) {
  const now = scene().limits.maxTubes;
  const start = answer()?.tubes?.length || 5;
  let next = now === undefined ? (by < 0 ? Math.max(start - 1, 1) : start + 1) : now + by;
  if (next < 1) return;
  if (next > mostTubes) next = undefined;
  act(`most tubes ${next ?? "any"}`, (s) => { s.limits.maxTubes = next; });
}

function setSpend(by) {
  const now = scene().limits.budget;
  const price = answer()?.price ?? 50;
  let next = now === undefined ? (by < 0 ? Math.ceil(price / step) * step - step : Math.ceil(price / step) * step) : (by < 0 ? Math.ceil(now / step) * step - step : Math.floor(now / step) * step + step);
  if (next < 0) return;
  if (now !== undefined && by > 0 && next > 300) next = undefined;
  act(`spend ${next ?? "any"}`, (s) => { s.limits.budget = next; });
}

function avoid(of, words) {
  const on = !(scene().limits.avoid ?? []).includes(of);
  act(on ? words : `${words}: off`, (s) => {
    const rest = (s.limits.avoid ?? []).filter((c) => c !== of);
    s.limits.avoid = on ? [...rest, of].sort() : rest;
  });
}

function onlyBox() {
  const on = !(scene().limits.only ?? []).length;
  const owned = owns();
  if (on && !owned.length) { location.hash = "box"; return; }
  act(on ? "only my box" : "only my box: off", (s) => { s.limits.only = on ? owned : undefined; });
}

let dialog;
let fields;
// openMore shows the limits asked for less often.
function openMore() {
  if (!dialog) {
    const choice = (name, label, options) => el("label", {}, label, el("select", { name }, ...options.map(([value, words]) => el("option", { value }, words))));
    const number = (name, label, props) => el("label", {}, label, el("input", { name, type: "number", ...props }));
    const form = el("form", { id: "limit-form", method: "dialog", onchange: set },
      el("h2", {}, "More limits"),
      el("div", { className: "grid" },
        number("tolerance", "nearness, ΔE00", { min: 0.1, max: 50, step: 0.1 }),
        number("maxTubes", "most tubes", { min: 1, max: 99 }),
        number("budget", "spend", { min: 0, step: 0.5 }),
        number("paintsPerMix", "paints in a mix", { min: 1, max: 8, placeholder: "4" }),
        choice("light", "light", [["D65", "daylight"], ["D50", "warmer daylight"], ["A", "lamplight"]]),
        choice("surface", "surface", [["", "as it dries"], ["no-glare", "varnished, no glare"]]),
        choice("prefer", "prefer", [["", "the usual"], ["accuracy", "accuracy"], ["price", "price"], ["hazards", "fewest hazards"], ["lightfastness", "lightfastness"], ["holds", "the surest"]])),
      el("label", { className: "tick" }, el("input", { type: "checkbox", name: "byHand" }), " only what a hand mixes from straight tubes and touches (takes longer)"),
      el("fieldset", {}, el("legend", {}, "none that are"), el("div", { id: "avoid", className: "ticks" })),
      el("p", { className: "acts" }, el("button", { className: "main" }, "Done")));
    fields = form.elements;
    dialog = el("dialog", { "aria-label": "More limits" }, form);
    document.body.append(dialog);
    catalogue().then(({ classes }) => { byId("avoid").append(...classes.map((c) => el("label", { className: "tick" }, el("input", { type: "checkbox", name: "avoid", value: c }), ` ${c}`))); drawMore(); }, () => {});
  }
  drawMore();
  dialog.showModal();
}

function drawMore() {
  if (!dialog) return;
  const { limits, tolerance, light, surface } = scene();
  const put = (name, value) => { if (document.activeElement !== fields[name]) fields[name].value = value ?? ""; };
  put("tolerance", tolerance);
  put("maxTubes", limits.maxTubes);
  put("budget", limits.budget);
  put("paintsPerMix", limits.paintsPerMix);
  put("light", light);
  put("surface", surface === "dry" ? "" : surface);
  put("prefer", limits.prefer === "usual" ? "" : limits.prefer);
  fields.byHand.checked = limits.byHand ?? false;
  for (const tick of byId("avoid").querySelectorAll("input")) tick.checked = (limits.avoid ?? []).includes(tick.value);
}

function set(e) {
  const { name, value, checked } = e.target;
  const number = value === "" ? undefined : Number(value);
  const label = e.target.closest("label").firstChild.textContent.trim() || e.target.closest("label").textContent.trim();
  if (name === "avoid") { avoid(value, `no ${value}`); return; }
  const shownAs = e.target.tagName === "SELECT" ? e.target.selectedOptions[0].textContent : value || "any";
  act(name === "byHand" ? `by hand: ${checked ? "on" : "off"}` : `${label.replace(", ΔE00", "")} ${shownAs}`, (s) => {
    if (name === "tolerance") s.tolerance = number || 3;
    else if (name === "light") s.light = value;
    else if (name === "surface") s.surface = value || undefined;
    else if (name === "byHand") s.limits.byHand = checked || undefined;
    else if (name === "prefer") s.limits.prefer = value || undefined;
    else s.limits[name] = number;
  });
}
