// The colours of the scene as a table whose cells can be edited.
import { state, change } from "./state.js";
import { byId, el, say, wrong } from "./dom.js";
import { postJSON } from "./server.js";

const planes = ["", "foreground", "middle", "distance", "sky"];

export function setUpTargets() {
  byId("typed").addEventListener("submit", async (e) => {
    e.preventDefault();
    try {
      const got = await (await postJSON("/colours", { text: byId("typed-text").value })).json();
      await change((s) => addTargets(s, got.map((t) => ({ ...t, name: t.name || t.words, area: 1 }))));
      byId("typed-text").value = "";
      wrong(e.target, "");
    } catch (err) {
      wrong(e.target, err.message);
    }
  });
}

export function freshName(base, taken) {
  let name = base;
  for (let n = 2; taken.includes(name); n++) name = `${base} ${n}`;
  return name;
}

export function addTargets(scene, list) {
  for (const t of list) {
    const { name, colour, hex, words, value, plane, area, tolerance, at, picked } = t;
    scene.targets.push({ name: freshName(name, scene.targets.map((o) => o.name)), colour, hex, words, value, plane, area: area ?? 1, tolerance, at, picked });
  }
}

export function drawTargets() {
  const table = byId("targets");
  const { targets } = state();
  table.hidden = targets.length === 0;
  const held = document.activeElement?.dataset?.cell;
  table.tBodies[0].replaceChildren(...targets.map(row));
  if (held) table.querySelector(`[data-cell="${CSS.escape(held)}"]`)?.focus();
}

function row(t, i) {
  const edit = (key, convert) => (e) => {
    const value = convert(e.target.value);
    if (key === "name" && (value === "" || state().targets.some((o, j) => j !== i && o.name === value))) {
      say("Each colour wants a name of its own.");
      e.target.value = t.name;
      return;
    }
    e.target.value = value ?? "";
    change((s) => { s.targets[i][key] = value; });
  };
  const input = (key, label, props, convert) => {
    const node = el("input", { value: t[key] ?? "", "aria-label": `${label} of ${t.name}`, ...props, onchange: edit(key, convert) });
    node.dataset.key = key;
    node.dataset.cell = `${i}-${key}`;
    return node;
  };
  const number = (v) => (v === "" ? undefined : Number(v));
  const plane = el("select", { "aria-label": `plane of ${t.name}`, onchange: edit("plane", (v) => v || undefined) },
    ...planes.map((p) => el("option", { value: p, selected: p === (t.plane ?? "") }, p || "no plane")));
  plane.dataset.cell = `${i}-plane`;
  const remove = el("button", { type: "button", "aria-label": `remove ${t.name}`, onclick: () => change((s) => { s.targets.splice(i, 1); }) }, "×");
  const labelled = (label, node) => el("td", { "data-label": label }, node);
  return el("tr", {},
    el("td", { className: "chip" }, el("span", { className: "no" }, String(i + 1)), el("span", { className: "mount" }, el("span", { className: "sw", fill: t.hex, title: t.colour }))),
    el("td", { className: "wide" }, input("name", "name", { maxLength: 80 }, (v) => v.trim())),
    labelled("value", t.value ?? ""),
    labelled("plane", plane),
    labelled("area", input("area", "area", { type: "number", min: 0, step: "any", className: "num" }, (v) => Math.max(Number(v) || 0, 0))),
    labelled("tolerance", input("tolerance", "tolerance", { type: "number", min: 0.1, step: "any", className: "num", placeholder: state().tolerance }, number)),
    el("td", {}, remove));
}
