// Planes: where sky, distance, middle and foreground lie in a photograph, as bands
// whose edges, or shapes whose corners, are dragged. Only in the view "Planes".
import { act } from "./store.js";
import { el } from "./dom.js";

const usual = { sky: [0, 0.35], distance: [0.35, 0.45], middle: [0.45, 0.65], foreground: [0.65, 1] };
const least = 0.02; // of the height, between two edges; and corners this near become one
let root, photo, shapes, drag;
let open = ""; // the plane whose acts are shown

const clamp = (v, low = 0, high = 1) => Math.round(Math.min(Math.max(v, low), high) * 1e3) / 1e3;

function read(text) {
  const [plane, where] = text.split("=");
  return where.includes(",") ? { plane, corners: where.trim().split(/\s+/).map((c) => c.split(",").map(Number)) } : { plane, band: where.split(":").map(Number) };
}

function holds({ band, corners }, x, y) {
  if (band) return y >= band[0] && y <= band[1];
  return corners.reduce((inside, [qx, qy], i) => {
    const [px, py] = corners.at(i - 1);
    return inside !== ((py > y) !== (qy > y) && x < px + (qx - px) * ((y - py) / (qy - py)));
  }, false);
}

// at is the plane of a place of a photograph, where one is laid there.
export const at = (of, { x, y }) => (of.planes ?? []).map(read).find((s) => holds(s, x, y))?.plane;

export function draw(view, of) {
  root ??= el("div", { className: "planes", role: "group", "aria-label": "Planes", onpointerdown: grab, onpointermove: pull, onpointerup: drop, onpointercancel: drop, onkeydown: nudge });
  if (root.parentNode !== view) view.append(root);
  if (drag) return;
  photo = of;
  shapes = (of.planes ?? []).map(read);
  paint();
}

export function clear() { root?.remove(); }

// keep writes the shapes; colours that lay in a plane by their place follow it.
function keep(words, joins = false) {
  const { name } = photo;
  const planes = shapes.map(({ plane, band, corners }) => `${plane}=${band ? band.join(":") : corners.join(" ")}`);
  act(words, (s) => {
    const p = s.photos.find((o) => o.name === name);
    const mine = s.targets.filter((t) => t.at?.photo === name && (!t.plane || t.plane === at(p, t.at)));
    p.planes = planes;
    for (const t of mine) t.plane = at(p, t.at) ?? t.plane;
  }, { joins });
}

const moved = (joins) => keep(`moved the planes of ${photo.name}`, joins);

// edges are the heights that can be dragged, each once.
const edges = () => [...new Set(shapes.flatMap((s) => s.band ?? []))].filter((y) => y > 0 && y < 1).sort((a, b) => a - b);

function button(words, onclick, props = {}) {
  return el("button", { type: "button", onclick, ...props }, words);
}

function handle(className, key, label, place, props = {}) {
  const b = button("", null, { className, "aria-label": label, place, ...props });
  b.dataset.handle = key;
  return b;
}

function paint() {
  const held = document.activeElement?.dataset?.handle;
  const sides = shapes.filter((s) => s.corners).map((s) => `<polygon points="${s.corners.join(" ")}"/>`).join(""); // of numbers alone
  const nodes = [el("div", { className: "sides", innerHTML: `<svg viewBox="0 0 1 1" preserveAspectRatio="none">${sides}<g>${sides}</g></svg>` })];
  shapes.forEach((s, i) => {
    const n = s.corners?.length;
    s.corners?.forEach(([x, y], k) => {
      const [nx, ny] = s.corners[(k + 1) % n];
      nodes.push(handle("corner", `${i} corner ${k}`, `corner ${k + 1} of ${s.plane}: arrow keys move it, Delete removes it`, [x, y]),
        handle("corner between", `${i} between ${k}`, `new corner after corner ${k + 1} of ${s.plane}`, [(x + nx) / 2, (y + ny) / 2]));
    });
    nodes.push(tag(s));
  });
  edges().forEach((y, i) => nodes.push(handle("line", `edge ${i}`, `edge of ${shapes.filter((s) => s.band?.includes(y)).map((s) => s.plane).join(" and ")}`, [0, y],
    { role: "slider", "aria-orientation": "vertical", "aria-valuenow": Math.round(100 * y) })));
  const missing = Object.keys(usual).filter((p) => !shapes.some((s) => s.plane === p));
  nodes.push(el("div", { className: "lay" }, ...(shapes.length ? missing : ["four bands"]).map((p) => button(`Lay ${p}`, () => {
    shapes.push(...missing.filter((o) => o === p || p === "four bands").map((o) => ({ plane: o, band: usual[o] })));
    keep(`laid ${p}`);
  }))));
  root.replaceChildren(...nodes);
  if (held) root.querySelector(`[data-handle="${held}"]`)?.focus();
}

// tag names a plane; pressed it shows what can be done with it.
function tag(s) {
  const on = open === s.plane;
  const ends = s.band ?? [s.corners.reduce((m, c) => Math.min(m, c[1]), 1), s.corners.reduce((m, c) => Math.max(m, c[1]), 0)];
  const put = (turned, words) => button(words, () => { shapes = shapes.flatMap((o) => (o === s ? turned : o)); keep(`${s.plane}: ${words}`); });
  const name = handle("", `tag ${s.plane}`, s.plane, [0, 0], { textContent: s.plane, "aria-expanded": String(on), onclick: () => { open = on ? "" : s.plane; paint(); } });
  return el("div", { className: "tag", place: [s.band ? 0 : Math.min(...s.corners.map((c) => c[0])), (ends[0] + ends[1]) / 2] }, name, ...(on ? [
    s.band ? put([{ plane: s.plane, corners: [[0, ends[0]], [1, ends[0]], [1, ends[1]], [0, ends[1]]] }], "corners") : put([{ plane: s.plane, band: ends }], "band"),
    put([], "remove")] : []));
}

// move puts a handle elsewhere and gives the key it then goes by.
function move(key, x, y) {
  const [a, b, c] = key.split(" ");
  if (a === "edge") {
    const all = [0, ...edges(), 1];
    const k = Number(b) + 1;
    const to = clamp(y, all[k - 1] + least, all[k + 1] - least);
    for (const s of shapes) s.band = s.band?.map((v) => (v === all[k] ? to : v));
    return key;
  }
  const k = Number(c) + (b === "between");
  shapes[a].corners.splice(k, b === "between" ? 0 : 1, [clamp(x), clamp(y)]);
  return `${a} corner ${k}`;
}

// part takes a corner away, unless three are left.
function part(key) {
  const [a, b, c] = key.split(" ");
  return b === "corner" && shapes[a].corners.length > 3 && shapes[a].corners.splice(c, 1).length > 0;
}

const keyOf = (e) => { const key = e.target.dataset.handle ?? ""; return key.startsWith("tag") ? "" : key; };

function grab(e) {
  e.stopPropagation();
  if (!keyOf(e)) return;
  e.target.focus();
  root.setPointerCapture(e.pointerId);
  drag = { key: keyOf(e) };
}

function pull(e) {
  e.stopPropagation();
  if (!drag) return;
  const box = root.getBoundingClientRect();
  drag = { moved: true, key: move(drag.key, (e.clientX - box.left) / box.width, (e.clientY - box.top) / box.height) };
  paint();
}

function drop(e) {
  e.stopPropagation();
  const was = drag;
  drag = undefined;
  if (!was?.moved) return;
  const [a, b, c] = was.key.split(" ");
  const all = shapes[a]?.corners;
  if (b === "corner" && [all.at(c - 1), all[(Number(c) + 1) % all.length]].some(([x, y]) => Math.hypot(x - all[c][0], y - all[c][1]) < least)) part(was.key);
  moved();
}

function nudge(e) {
  const key = keyOf(e);
  const step = e.shiftKey ? 0.05 : 0.005;
  const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
  if (!key || !by && !(e.key === "Delete" && part(key))) return;
  if (by) move(key, parseFloat(e.target.style.left) / 100 + by[0], parseFloat(e.target.style.top) / 100 + by[1]);
  moved(Boolean(by));
  e.preventDefault();
  e.stopPropagation();
}
