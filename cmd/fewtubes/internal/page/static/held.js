// Palettes held for comparing.
import { state, change } from "./state.js";
import { byId, el, say } from "./dom.js";
import { freshName } from "./targets.js";
import { tube } from "./tubes.js";

const most = 6;

// hold keeps a palette in the scene's address.
export async function hold(tubes) {
  const held = state().held ?? [];
  if (held.some((p) => p.tubes.join() === tubes.join())) { say("This palette is held already."); return; }
  if (held.length === most) { say(`${most} palettes are held; let one go first.`); return; }
  let n = held.length + 1;
  while (held.some((p) => p.name === `palette ${n}`)) n++;
  const name = `palette ${n}`;
  await change((s) => { s.held = [...held, { name, tubes }]; });
  say(`Held as "${name}".`);
}

export function drawHeld() {
  const held = state().held ?? [];
  byId("held-none").hidden = held.length > 0;
  byId("compare").disabled = held.length < 2;
  byId("compare").textContent = held.length < 2 ? "Compare" : `Compare these ${held.length}`;
  const focused = document.activeElement?.dataset?.held;
  byId("held").replaceChildren(...held.map((p, i) => {
    const name = el("input", { value: p.name, maxLength: 40, "aria-label": `name of palette ${i + 1}`, onchange: (e) => change((s) => { s.held[i].name = freshName(e.target.value.trim() || p.name, s.held.filter((_, j) => j !== i).map((q) => q.name)); }) });
    name.dataset.held = `name-${i}`;
    return el("li", {}, name,
      el("span", { className: "mount strip" }, ...p.tubes.map((id) => el("span", { className: "sw", fill: tube(id)?.masstone, title: tube(id)?.name ?? id }))),
      el("button", { type: "button", "aria-label": `let go of ${p.name}`, onclick: () => change((s) => { s.held.splice(i, 1); }) }, "Let go"));
  }));
  if (focused) byId("held").querySelector(`[data-held="${focused}"]`)?.focus();
}
