// My box: the tubes on their shelves. Each says by buttons of its own whether it is
// in the box, must be in the palette, or never.
import { scene, act, boxed, setBox, on } from "./store.js";
import { el, say } from "./dom.js";
import { getJSON, postJSON } from "./server.js";
import { catalogue, tube } from "./tubes.js";

const roles = [["own", "in my box"], ["keep", "must be in"], ["never", "never"]];
let root, all, safety, ready, find, told, shelves, kept, cautions;
let doc = { ready: [], leftOut: [] };
let owned = []; // as pressed here; the program may not know it yet
let waiting = 0;
let line = Promise.resolve(); // what is put in and taken out, one after the other

export async function setUp(at) {
  root = at;
  ({ tubes: all, safety } = await catalogue());
  find = el("input", { type: "search", "aria-label": "Find a tube", placeholder: "find a tube", oninput: draw });
  ready = el("div", { className: "toggles", role: "group", "aria-label": "Put in at once" });
  kept = el("p", { className: "soft" });
  told = el("p", { className: "told", role: "status" });
  shelves = el("div", { className: "shelves", onkeydown: rove });
  cautions = el("div", {});
  root.append(el("header", {}, el("h2", {}, "My box"), find, el("a", { href: "#", className: "button main" }, "Done")),
    kept, el("div", { className: "put" }, el("span", {}, "Put in at once"), ready), told, shelves,
    el("details", {}, el("summary", {}, "Cautions of the tubes in my box"), cautions));
  on("scene", () => { if (!root.hidden) draw(); });
}

export const show = async () => take(await getJSON("/box"));

function take(got) {
  doc = got;
  owned = doc.owned;
  setBox(owned);
  draw();
}

// change puts tubes in and takes others out; the words say it, and it can be taken back.
function change(words, put, out, back = true) {
  const was = owned;
  put = put.filter((id) => !was.includes(id));
  out = out.filter((id) => was.includes(id));
  if (!put.length && !out.length) return;
  owned = [...was.filter((id) => !out.includes(id)), ...put];
  draw();
  told.replaceChildren(words, back ? el("button", { type: "button", onclick: () => change("Taken back.", out, put, false) }, "Take back") : "");
  waiting++;
  line = line.then(async () => {
    const follows = String(scene().limits.only) === String(boxed());
    const got = await (await postJSON("/box", { put, take: out })).json();
    if (--waiting) setBox(got.owned);
    else take(got);
    if (follows) act("only my box", (s) => { s.limits.only = got.owned; });
  }).catch((err) => { waiting = 0; told.textContent = ""; say(err.message, true); return show(); });
}

function draw() {
  const words = find.value.toLowerCase().split(/\s+/);
  const held = document.activeElement?.dataset?.tile;
  kept.replaceChildren(`${owned.length || "No"} tube${owned.length === 1 ? "" : "s"}${doc.path ? `, kept on this computer in ${doc.path}` : ""}. `,
    `${owned.length ? "The" : "With tubes in it, the"} answer is the palette with the fewest tubes to buy.`,
    ...[doc.wrong, ...doc.leftOut].filter(Boolean).map((text) => el("span", { className: "wrong" }, text)));
  if (!ready.children.length) ready.append(...doc.ready.map((r) => el("button", { type: "button", className: "toggle", onclick: () => change(`Put in: ${r.words}.`, r.ids, []) }, r.words)));
  const shown = all.filter((t) => words.every((w) => `${t.name} ${t.id} ${t.pigments.join(" ")} ${t.family}`.toLowerCase().includes(w)));
  const families = [...new Set(shown.map((t) => t.family))];
  shelves.replaceChildren(...families.map((family) => el("section", { "aria-label": family }, el("h3", {}, family), el("ul", {}, ...shown.filter((t) => t.family === family).map(tile)))));
  if (!shown.length) shelves.append(el("p", {}, "No tube goes by these words."));
  const buttons = [...shelves.querySelectorAll("button")];
  const now = buttons.find((b) => b.dataset.tile === held);
  (now ?? buttons[0] ?? find).tabIndex = 0;
  now?.focus();
  const minded = owned.map(tube).filter((t) => t?.caution);
  cautions.replaceChildren(...minded.map((t) => el("p", {}, el("b", {}, t.name), ` ${t.caution} ${t.lasting}`)), el("p", {}, safety));
}

function tile(t) {
  const { limits } = scene();
  const is = { own: owned.includes(t.id), keep: (limits.keep ?? []).includes(t.id), never: (limits.never ?? []).includes(t.id) };
  const [name, note] = t.name.split(" (");
  const minded = [...t.hazards, ...t.fails];
  const button = ([role, words], ...inside) => {
    const b = el("button", { type: "button", tabIndex: -1, "aria-pressed": String(is[role]), "aria-label": inside.length > 1 ? null : `${t.name}: ${words}`, onclick: () => press(t, role, !is[role]) }, ...inside);
    b.dataset.tile = `${role} ${t.id}`;
    return b;
  };
  return el("li", {},
    button(roles[0], el("span", { className: "mount" }, el("span", { className: "sw", fill: t.masstone }), el("span", { className: "sw tint", fill: t.tint })),
      el("span", { className: "name" }, name, note ? el("small", {}, note.replace(")", "")) : "", minded.length ? el("b", {}, minded.join(", ")) : ""),
      el("span", { className: "in" }, roles[0][1])),
    ...roles.slice(1).map((r) => button(r, r[1])));
}

function press(t, role, on) {
  if (role === "own") { change(`${on ? "Put in" : "Taken out"}: ${t.name}.`, on ? [t.id] : [], on ? [] : [t.id]); return; }
  const words = roles.find(([r]) => r === role)[1];
  act(`${t.name}: ${on ? words : `no more “${words}”`}`, (s) => {
    for (const r of ["keep", "never"]) {
      const rest = (s.limits[r] ?? []).filter((id) => id !== t.id);
      s.limits[r] = r === role && on ? [...rest, t.id] : rest;
    }
  });
}

// rove moves among the buttons by arrows: one stop of the Tab key holds them all.
function rove(e) {
  const by = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -roles.length, ArrowDown: roles.length }[e.key];
  const buttons = [...shelves.querySelectorAll("button")];
  const next = buttons[buttons.indexOf(e.target) + by];
  if (by) e.preventDefault();
  if (!by || !next) return;
  e.target.tabIndex = -1;
  next.tabIndex = 0;
  next.focus();
}
