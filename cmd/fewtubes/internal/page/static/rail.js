// The rail: every colour of the scene, wanted over mixed, grouped by plane.
import { scene, chosen, choose, mixed, act, on } from "./store.js";
import { byId, el, wrong } from "./dom.js";
import { postJSON } from "./server.js";
import { addTargets, removePhoto, suggest, suggested } from "./photos.js";
import { photograph } from "./picture.js";

const groups = [["sky", "Sky"], ["distance", "Distance"], ["middle", "Middle"], ["foreground", "Foreground"], ["", ""]];
let chips;

export function setUpRail() {
  chips = el("div", { id: "chips", role: "group", "aria-label": "Colours of the scene: arrow keys go from one to the next" });
  byId("rail").append(chips, el("button", { type: "button", id: "add", "aria-label": "Add colours", onclick: openTyping }, "+"));
  chips.addEventListener("keydown", walk);
  on("scene", draw);
  on("answer", draw);
  on("chosen", draw);
}

function draw() {
  const { targets } = scene();
  const held = document.activeElement?.closest?.("#chips") ? document.activeElement.dataset.chip : undefined;
  const first = chosen() || targets[0]?.name;
  const sets = groups.map(([plane, words]) => {
    const own = targets.map((t, i) => [t, i]).filter(([t]) => (t.plane ?? "") === plane);
    return own.length ? el("div", { className: "plane", role: "group", "aria-label": words || "no plane" }, el("span", { className: "heading" }, words),
      el("div", { className: "row" }, ...own.map(([t, i]) => chip(t, i, t.name === first)))) : null;
  });
  const now = el("div", {}, ...sets.filter(Boolean));
  if (now.innerHTML !== chips.innerHTML) chips.replaceChildren(...now.childNodes); // else a press on a chip would be lost
  if (held !== undefined) (chips.querySelector(`[data-chip="${CSS.escape(held)}"]`) ?? chips.querySelector("[tabindex='0']"))?.focus();
  chips.querySelector("[aria-pressed=true]")?.scrollIntoView({ block: "nearest", inline: "nearest" });
}

function chip(t, i, stop) {
  const m = mixed(t.name);
  const out = m && !m.within;
  const b = el("button", {
    type: "button", className: out ? "chip out" : "chip", tabIndex: stop ? 0 : -1, "aria-pressed": String(t.name === chosen()),
    "aria-label": `${i + 1}${out ? " out of reach:" : ""} ${t.name}`, title: t.name, onclick: () => choose(t.name === chosen() ? "" : t.name),
  },
  el("span", { className: "sw", fill: t.hex }), el("span", { className: "sw mix", fill: m && !out ? m.mixed : undefined }),
  el("span", { className: "no" }, String(i + 1), out ? el("b", {}, " out") : null));
  b.dataset.chip = t.name;
  return b;
}

function walk(e) {
  const all = [...chips.querySelectorAll(".chip")];
  const here = all.indexOf(document.activeElement);
  const to = { ArrowLeft: here - 1, ArrowRight: here + 1, Home: 0, End: all.length - 1 }[e.key];
  if (here < 0 || !all[to]) return;
  e.preventDefault();
  all[to].focus();
  choose(all[to].dataset.chip);
}

let dialog;
// openTyping lets colours be typed, or more be suggested.
export function openTyping() {
  if (!dialog) {
    const text = el("textarea", { id: "typed-text", rows: 4, placeholder: "wet mud = lab(38 4 9)\n#7a8c5a\n5GY 5/6", spellcheck: false });
    const form = el("form", { id: "typed", method: "dialog", onsubmit: (e) => {
      e.preventDefault();
      add(form, text);
    } },
    el("h2", {}, "Add colours"),
    el("label", {}, "One to a line, with a name before an equals sign if you like", text),
    el("p", { className: "acts" },
      el("button", { type: "submit", className: "main" }, "Add colours"),
      el("button", { type: "button", onclick: () => dialog.close() }, "Close")),
    el("fieldset", { id: "of-photo" }, el("legend", {}, ""),
      el("div", { className: "acts" },
        el("label", {}, "colours to suggest", el("input", { id: "suggest-n", type: "number", min: 1, max: 60, value: suggested })),
        el("label", { className: "tick" }, el("input", { id: "suggest-fit", type: "checkbox", checked: true }), "move values into what paint shows")),
      el("p", { className: "acts" },
        el("button", { type: "button", id: "suggest", onclick: () => { dialog.close(); suggest([photograph()], Number(byId("suggest-n").value), byId("suggest-fit").checked); } }, "Suggest"),
        el("button", { type: "button", id: "remove-photo", onclick: () => { dialog.close(); removePhoto(photograph().name); } }, "Remove this photograph"))));
    dialog = el("dialog", { "aria-label": "Add colours" }, form);
    document.body.append(dialog);
  }
  const of = photograph();
  byId("of-photo").hidden = !of;
  byId("of-photo").firstChild.textContent = of ? `From ${of.name}` : "";
  byId("suggest").disabled = !of?.id;
  dialog.showModal();
}

async function add(form, text) {
  try {
    const got = await (await postJSON("/colours", { text: text.value })).json();
    if (!got.length) { wrong(form, "Type a colour first, such as #7a8c5a."); return; }
    await act(got.length === 1 ? `typed “${got[0].name || got[0].words}”` : `typed ${got.length} colours`, (s) => addTargets(s, got.map((t) => ({ ...t, name: t.name || t.words, area: 1 }))));
    text.value = "";
    wrong(form, "");
    dialog.close();
  } catch (err) {
    wrong(form, err.message);
  }
}
