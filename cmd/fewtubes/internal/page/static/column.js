// The answer column: the palette, how well it does, and either the colours hardest
// to reach, what the last change did, or the chosen colour and its recipe.
import { scene, answer, chosen, choose, target, mixed, act, on } from "./store.js";
import { byId, el, say } from "./dom.js";
import { ask, working, onWorking } from "./ask.js";
import { changed, changedBriefly } from "./changed.js";
import { remove } from "./picture.js";
import { addTargets } from "./photos.js";

const planes = ["", "sky", "distance", "middle", "foreground"];

export function setUpColumn() {
  for (const kind of ["scene", "answer", "chosen"]) on(kind, draw);
  onWorking(drawHead);
}

function draw() {
  const held = document.activeElement?.closest?.("#answer, #bar")?.id && document.activeElement.id;
  drawAnswer();
  drawBar();
  if (held) byId(held)?.focus();
}

const headline = () => working() || answer()?.headline || answer()?.trouble || "No colours yet";

function drawHead() {
  for (const h of document.querySelectorAll(".headline")) h.textContent = headline();
}

function drawAnswer() {
  const a = answer();
  const box = byId("answer");
  box.dataset.stage = a?.stage ?? "";
  box.dataset.answer = a?.tubes?.map((t) => t.id).join() ?? "";
  box.replaceChildren(el("h2", { className: "headline", id: "answer-h" }, headline()));
  if (!a) { box.append(el("p", { className: "soft" }, scene().targets.length ? "" : "Touch the picture for a colour; drag for an area.")); return; }
  if (a.trouble) return;
  const one = chosen() && target();
  box.append(palette(a));
  box.append(one ? el("p", { className: "figures short" }, el("b", {}, String(a.reached)), ` of ${a.of} `, el("i", {}, "colours reached "), " ", el("b", {}, money(a.price)), el("i", {}, " price, about")) : figures(a));
  if (!one) {
    box.append(el("p", { className: "links" }, el("a", { href: "#why" }, a.minimum ? "Why fewer will not do" : "Why these"), a.others ? el("a", { href: "#why" }, a.others) : null,
      a.checked.length ? el("button", { type: "button", className: "link", id: "back", onclick: () => ask([]) }, "Back to the fewest tubes") : null));
    box.append(changed() ?? hardest(a));
  } else {
    const line = changedBriefly();
    if (line) box.append(el("p", { className: "changed-line" }, line));
    box.append(colour(one));
  }
}

export const money = (v) => v.toFixed(2);

function palette(a) {
  const rows = a.tubes.length > 6 ? Math.ceil(a.tubes.length / 2) : a.tubes.length;
  const list = el("ul", { className: "palette" }, ...a.tubes.map((t) => {
    const minded = t.hazards.concat(t.fails).join(", ");
    return el("li", {}, el("span", { className: "sw", fill: t.masstone }), el("span", { className: "sw tint", fill: t.tint }),
      el("span", { className: "name" }, broken(t.label), t.more ? el("small", {}, t.more) : null, minded ? el("b", {}, minded) : null));
  }));
  list.style.setProperty("--across", rows);
  return list;
}

// broken lets a long word be parted under a narrow swatch: before a consonant with a
// vowel after it, nearest its middle.
const broken = (name) => name.replace(/\p{L}{10,}/gu, (word) => {
  const at = [...word.matchAll(/[aeiou](?=[^aeiou][aeiou])/g)].map((m) => m.index + 1).sort((a, b) => Math.abs(a - word.length / 2) - Math.abs(b - word.length / 2))[0];
  return at ? `${word.slice(0, at)}\u00ad${word.slice(at)}` : word;
});

export const capital = (s) => s.charAt(0).toUpperCase() + s.slice(1);

function figures(a) {
  const one = (big, rest, ...words) => el("div", {}, el("dd", {}, el("b", {}, big), rest), el("dt", {}, ...words));
  const more = (words) => el("i", {}, words);
  return el("dl", { className: "figures" },
    one(String(a.reached), ` of ${a.of}`, "colours", more(" reached")),
    one(a.area ? `${a.area} %` : "…", "", more("of the "), a.areaOf),
    one(a.draws ? `${a.holds}` : "…", a.draws ? ` of ${a.draws}` : "", "plausible boxes", more(" hold")),
    one(money(a.price), "", "price, about"));
}

function pair(t, m) {
  return el("span", { className: "mount twin" }, el("span", { className: "sw", fill: t.hex }), el("span", { className: "sw", fill: m?.mixed ?? t.hex }));
}

function hardest(a) {
  const rows = a.targets.map((m, i) => ({ m, i })).sort((x, y) => y.m.de / y.m.tolerance - x.m.de / x.m.tolerance).slice(0, 3);
  return el("section", { className: "hardest" }, el("h3", {}, "Hardest to reach"),
    el("ul", {}, ...rows.map(({ m, i }) => {
      const t = target(m.name);
      return t ? el("li", {}, el("button", { type: "button", onclick: () => choose(m.name) }, pair(t, m),
        el("span", { className: "name" }, `${i + 1} ${m.name}`),
        says(m))) : null;
    }).filter(Boolean)),
    a.nameToo.length ? nameToo(a.nameToo) : el("p", { className: "soft" }, "Touch the picture for a colour; drag for an area."));
}

// nameToo offers the colours of the photographs that none of the scene stands for.
function nameToo(missing) {
  const words = missing.length === 1 ? "one colour" : `${missing.length} colours`;
  return el("p", { className: "acts needed" }, el("button", { type: "button", onclick: () => act(`noted ${words} more`, (s) => addTargets(s, missing.map((c) =>
    ({ name: c.name, colour: c.colour, hex: c.hex, words: c.name, value: c.value, area: 1, at: c.photo ? { photo: c.photo, x: c.x, y: c.y, radius: 0.01 } : undefined })))) },
  ...missing.map((c) => el("span", { className: "sw", fill: c.hex })), `Note ${words} that the picture also needs`));
}

function says(m) {
  return el("span", { className: "says" }, ...(m.within ? [m.word] : [el("b", {}, "out of reach: "), m.miss]));
}

function colour(t) {
  const m = mixed();
  const i = scene().targets.indexOf(t);
  const name = el("input", { id: "colour-name", value: t.name, maxLength: 80, "aria-label": "Name of the colour", spellcheck: false, onchange: (e) => rename(t.name, e.target.value.trim()) });
  const box = el("section", { className: "colour", "aria-label": t.name },
    el("h3", {}, el("span", { className: "disc" }, String(i + 1)), name,
      el("button", { type: "button", className: "round", id: "colour-more", "aria-label": `More about ${t.name}`, onclick: () => openColour(t.name) }, "⋯")),
    el("p", { className: "look soft" }, `value ${t.value} · ${m ? `chroma ${m.chroma} · ` : ""}${t.words}`),
    el("div", { className: "mount touching" }, el("span", { className: "sw", fill: t.hex }, el("span", { className: "tag" }, "wanted")), el("span", { className: "sw", fill: m?.mixed ?? t.hex }, el("span", { className: "tag" }, "mixed"))));
  if (m) {
    box.append(el("p", { className: "judged" }, el("b", {}, m.within ? capital(m.word) : `Out of reach: ${m.miss}`), el("button", { type: "button", className: "round", "aria-label": "The difference as a figure", onclick: () => say(figure(m)) }, "?")),
      el("ul", { className: "recipe-rows" }, ...m.parts.map((p) => el("li", {}, el("span", { className: "sw", fill: p.hex }), el("b", { className: p.parts < 1 ? "touch" : "" }, p.count), el("span", {}, `${capital(p.paint)} `, p.note ? el("small", {}, p.note) : null)))));
  }
  box.append(el("p", { className: "acts" },
    el("a", { href: "#mixing", className: "button main", id: "to-mixing" }, "To the mixing table"),
    el("button", { type: "button", id: "what-i-got", onclick: () => { location.hash = "mixing"; document.body.dataset.got = ""; } }, "What I got")));
  return box;
}

const figure = (m) => `ΔE00 ${m.de.toFixed(2)} by CIEDE2000; asked for is ${m.tolerance.toFixed(2)}. Below 1 nobody sees it.`;

function rename(from, to) {
  if (!to || scene().targets.some((t) => t.name === to && t.name !== from)) {
    say("Each colour wants a name of its own.");
    draw();
    return;
  }
  if (to === from) return;
  const held = document.activeElement.id;
  act(`renamed “${from}”`, (s) => { s.targets.find((t) => t.name === from).name = to; });
  choose(to);
  byId(held)?.focus();
}

let dialog;
// openColour is for what is seldom changed of a colour: plane, area, nearness.
function openColour(of) {
  dialog?.remove();
  const t = target(of);
  const edit = (words, key, convert) => (e) => act(`${words} of “${of}”`, (s) => { s.targets.find((o) => o.name === of)[key] = convert(e.target.value); });
  const form = el("form", { method: "dialog", id: "colour-form" },
    el("h2", {}, of), el("p", { className: "soft" }, `${t.colour}. ${mixed(of) ? figure(mixed(of)) : ""}`),
    el("div", { className: "grid" },
      el("label", {}, "plane", el("select", { name: "plane", onchange: edit("plane", "plane", (v) => v || undefined) }, ...planes.map((p) => el("option", { value: p, selected: p === (t.plane ?? "") }, p || "no plane")))),
      el("label", {}, "area", el("input", { name: "area", type: "number", min: 0, step: "any", value: t.area, onchange: edit("area", "area", (v) => Math.max(Number(v) || 0, 0)) })),
      el("label", {}, "nearness, ΔE00", el("input", { name: "tolerance", type: "number", min: 0.1, step: "any", value: t.tolerance ?? "", placeholder: scene().tolerance, onchange: edit("nearness", "tolerance", (v) => (v === "" ? undefined : Number(v))) }))),
    el("p", { className: "acts" }, el("button", { className: "main" }, "Done"), el("button", { type: "button", id: "remove-colour", onclick: () => { dialog.close(); remove(of); } }, "Remove this colour")));
  dialog = el("dialog", { "aria-label": of }, form);
  document.body.append(dialog);
  dialog.showModal();
}

// drawBar is the answer in short, at the foot of narrow pages.
function drawBar() {
  const a = answer();
  const box = byId("bar-answer");
  box.replaceChildren(...(a?.tubes ? [
    el("span", { className: "strip mount" }, ...a.tubes.map((t) => el("span", { className: "sw", fill: t.masstone, title: t.name }))),
    el("b", { className: "count" }, `${a.reached} of ${a.of}`),
    el("span", { className: "soft said" }, changedBriefly() || a.brief || "")] : [el("span", { className: "soft said" }, headline())]));
}
