// Palettes side by side.
import { scene, answer, asked, act, on } from "./store.js";
import { el, place, say } from "./dom.js";
import { workJSON } from "./server.js";

let list;
let out;

export function setUp(root) {
  list = el("ul", {});
  out = el("div", { className: "report" });
  root.append(el("h2", {}, "Beside"),
    el("button", { type: "button", onclick: hold }, "Hold this palette"),
    el("button", { type: "button", onclick: compare }, "Compare"), list, out);
  on("scene", () => { if (!root.hidden) show(); });
}

export function show() {
  list.replaceChildren(...(scene().held ?? []).map((p, i) => el("li", {}, `${p.name}: ${p.tubes.join(", ")} `,
    el("button", { type: "button", onclick: () => act(`let go of ${p.name}`, (s) => { s.held.splice(i, 1); }) }, "Let go"))));
}

function hold() {
  const tubes = answer()?.tubes?.map((t) => t.id);
  if (tubes?.length) act("held a palette", (s) => { s.held = [...(s.held ?? []), { name: `palette ${(s.held?.length ?? 0) + 1}`, tubes }]; });
}

async function compare() {
  try {
    const { html } = await workJSON("/compare", { scene: asked(), palettes: scene().held ?? [] }, (words) => say(words, true));
    place(out, html);
  } catch (err) {
    say(err.message);
  }
}
