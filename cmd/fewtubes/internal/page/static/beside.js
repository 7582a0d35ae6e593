// Beside: palettes next to the one that stands, each with its painted picture.
import { answer, asked, act, boxed, on } from "./store.js";
import { el, say } from "./dom.js";
import { events, inLine, postJSON } from "./server.js";
import { catalogue, tube } from "./tubes.js";
import { money, capital } from "./column.js";
import { spelled } from "./ask.js";
import { photograph, painted } from "./picture.js";

const kinds = ["no cadmium", "only my box", "no toxic pigment", "six for travel", "one tube fewer", "fewest in all"];
const mostRows = 8;
let wanted; // the kinds put beside
let root, chips, table, note;
let columns = [];
let rows = [];
let running;
let key = "";

export async function setUp(at) {
  root = at;
  chips = el("div", { className: "toggles", role: "group", "aria-label": "Put beside" });
  note = el("p", { className: "soft", role: "status" });
  table = el("div", { className: "columns", tabIndex: 0, role: "group", "aria-label": "Palettes side by side" });
  root.append(el("div", { className: "put" }, el("span", {}, "Put beside"), chips, el("a", { href: "#", className: "button main" }, "Back to the picture")), note, table);
  for (const kind of ["answer", "box"]) on(kind, () => { if (!root.hidden) show(); });
  await catalogue();
}

export function show() {
  if (!answer()?.tubes?.length) {
    key = "";
    chips.replaceChildren();
    table.replaceChildren();
    note.textContent = "Palettes can be put side by side once there are colours and an answer.";
    return;
  }
  wanted ??= [answer().tubes.some((t) => t.hazards.includes("cadmium")) ? "no cadmium" : "one tube fewer", "only my box"];
  ask();
}

function toggle(kind) {
  wanted = wanted.includes(kind) ? wanted.filter((k) => k !== kind) : [...wanted, kind];
  ask();
}

// offered are the kinds that make sense of this answer.
const offered = () => kinds.filter((k) => wanted.includes(k) || (k === "six for travel" ? answer().tubes.length > 6 : k !== "fewest in all" || boxed().length));

function drawChips() {
  const held = document.activeElement?.dataset?.kind;
  chips.replaceChildren(...offered().map((kind) => {
    const b = el("button", { type: "button", className: "toggle", "aria-pressed": String(wanted.includes(kind)), onclick: () => toggle(kind) }, kind);
    b.dataset.kind = kind;
    return b;
  }));
  if (held) chips.querySelector(`[data-kind="${held}"]`)?.focus();
}

async function ask() {
  drawChips();
  const question = { scene: asked(), columns: wanted };
  const now = JSON.stringify([question, boxed(), photograph()?.id]);
  if (now === key) return;
  key = now;
  running?.abort();
  running = new AbortController();
  const { signal } = running;
  table.classList.add("old");
  let n = 0;
  note.textContent = "Looking…";
  try {
    await events(await postJSON("/beside", question, signal), (kind, data) => {
      if (signal.aborted) return;
      if (kind === "column") draw([...columns.slice(0, n++), data], []);
      else if (kind === "result") draw(data.columns, data.rows);
      else if (kind === "trouble" || kind === "stopped") key = "";
      note.textContent = { queue: capital(inLine(data.before ?? 0)), result: "", trouble: data, stopped: data }[kind] ?? "Looking…";
    });
  } catch (err) {
    if (signal.aborted) return;
    key = "";
    note.textContent = "";
    say(err.message, true);
  }
}

function draw(now, differ) {
  columns = now;
  rows = differ;
  table.classList.remove("old");
  const left = table.scrollLeft;
  const held = document.activeElement?.dataset?.of;
  let filled = 0;
  table.replaceChildren(...columns.map((c) => column(c, c.wrong ? -1 : filled++)),
    ...wanted.slice(Math.max(columns.length - 1, 0)).map((words) => el("section", { className: "waits" }, el("h2", {}, capital(words)), el("p", { className: "soft" }, "…"))));
  table.scrollLeft = left;
  if (held) table.querySelector(`[data-of="${held}"]`)?.focus();
}

const src = (c, width) => painted(photograph(), "painted", c.tubes, width);

// column draws a palette; place is its own among the cells of the rows.
function column(c, place) {
  const stands = c.words === "as it stands";
  const title = el("div", {}, el("h2", {}, capital(c.words)));
  const head = el("header", {}, title);
  const box = el("section", { "aria-label": c.words }, head);
  if (c.wrong) {
    box.append(el("div", {}, el("p", {}, capital(c.wrong), "."), c.words === "only my box" ? el("a", { href: "#box", className: "button" }, "My box") : ""));
    return box;
  }
  const n = c.tubes.length;
  title.append(el("span", { className: "soft" }, c.same ? "the same tubes" : `${spelled(n)} tube${n === 1 ? "" : "s"}`));
  if (!stands && !c.same) {
    const take = el("button", { type: "button", onclick: () => act(`took ${c.words}`, (s) => { s.limits = c.limits; }) }, "Take this one");
    take.dataset.of = `take ${c.words}`;
    head.append(take);
  }
  const tubes = c.tubes.map(tube).filter(Boolean);
  box.append(el("div", {}, el("span", { className: "mount tubes" }, ...tubes.map((t) => el("span", { className: "sw", fill: t.masstone }, el("span", { className: "sw", fill: t.tint })))),
    el("ul", { className: "names" }, ...tubes.map((t) => el("li", {}, t.name.split(" (")[0], el("b", {}, [...t.hazards, ...t.fails].map((h) => ` ${h}`).join()))))), figures(c));
  if (photograph()?.id) {
    const b = el("button", { type: "button", className: "mount picture", "aria-label": `${c.words}, painted: larger`, onclick: () => large(c) },
      el("img", { src: src(c, root.clientWidth / 3), alt: `${photograph().name} painted: ${c.words}`, draggable: false }));
    b.dataset.of = `picture ${c.words}`;
    box.append(b);
  }
  box.append(el("ul", { className: "differ" }, ...rows.slice(0, mostRows).map((r) => {
    const cell = r.cells[place];
    return el("li", {}, el("span", { className: "mount twin" }, el("span", { className: "sw", fill: r.wanted }), el("span", { className: "sw", fill: cell.mixed })),
      el("span", { className: "name" }, r.name), el("span", { className: cell.within ? "soft" : "" }, cell.within ? cell.word : el("b", {}, cell.word)));
  })));
  if (!rows.length && c.draws) box.append(el("p", { className: "soft" }, "They serve every colour alike."));
  return box;
}

function figures(c) {
  const one = (big, words, rest = "") => el("div", {}, el("dd", {}, el("b", {}, big), rest), el("dt", {}, words));
  return el("dl", { className: "figures" },
    one(String(c.reached), "colours reached", ` of ${c.of}`),
    one(c.draws ? `${(100 * c.area).toFixed(1)} %` : "…", `of the ${c.areaOf || "picture"}`),
    one(c.draws ? String(c.holds) : "…", c.draws ? `of ${c.draws} plausible boxes hold` : "plausible boxes hold"),
    c.price === 0 ? one("nothing", "to buy") : one(money(c.price), boxed().length ? `${spelled(c.buy)} to buy` : "price, about"));
}

// large shows a picture in full; a tap puts the next palette's in its place.
function large(first) {
  const all = columns.filter((c) => !c.wrong);
  let now = all.indexOf(first);
  const pictures = all.map((c) => el("img", { src: src(c, innerWidth), alt: "", draggable: false }));
  const names = all.map((c, i) => el("button", { type: "button", className: "toggle", onclick: () => put(i) }, c.words));
  const swap = el("button", { type: "button", className: "swap", onclick: () => put((now + 1) % all.length) }, ...pictures);
  const dialog = el("dialog", { className: "large", "aria-label": "Painted pictures" }, swap,
    el("div", { className: "toggles" }, ...names, el("button", { type: "button", className: "main", onclick: () => dialog.close() }, "Close")));
  const put = (i) => {
    now = i;
    pictures.forEach((p, k) => { p.classList.toggle("shown", k === i); });
    names.forEach((b, k) => b.setAttribute("aria-pressed", String(k === i)));
    swap.setAttribute("aria-label", `${all[i].words}, painted: the next in its place`);
  };
  put(now);
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
}
