// Planes: where sky, distance, middle and foreground lie in a photograph, as bands
// whose edges, or shapes whose corners, are dragged. Only in the view "Planes".
import { act } from "./store.js";
import { el } from "./dom.js";

const usual = { sky: [0, 0.35], distance: [0.35, 0.45], middle: [0.45, 0.65], foreground: [0.65, 1] };
const least = 0.02; // of the height, between two edges; and corners this near become one
const svg = "http://www.w3.org/2000/svg";
let root, photo, shapes, drag;
let open = ""; // the plane whose acts are shown

const round = (v) => Math.round(Math.min(Math.max(v, 0), 1) * 1e3) / 1e3;

function read(text) {
  const [plane, where] = text.split("=");
  return where.includes(",") ? { plane, corners: where.trim().split(/\s+/).map((c) => c.split(",").map(Number)) } : { plane, band: where.split(":").map(Number) };
}

const write = ({ plane, band, corners }) => `${plane}=${band ? band.join(":") : corners.map((c) => c.join()).join(" ")}`;

function holds({ band, corners }, x, y) {
  if (band) return y >= band[0] && y <= band[1];
  let inside = false;
  corners.forEach(([qx, qy], i) => {
    const [px, py] = corners.at(i - 1);
    if ((py > y) !== (qy > y) && x < px + (qx - px) * ((y - py) / (qy - py))) inside = !inside;
  });
  return inside;
}

// at is the plane of a place of a photograph, where one is laid there.
export const at = (of, { x, y }) => (of.planes ?? []).map(read).find((s) => holds(s, x, y))?.plane;

export function draw(view, of) {
  if (!root) {
    root = el("div", { className: "planes", role: "group", "aria-label": "Planes", onpointerdown: grab, onpointermove: pull, onpointerup: drop, onpointercancel: drop, onkeydown: nudge });
  }
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
  const planes = shapes.map(write);
  return act(words, (s) => {
    const p = s.photos.find((o) => o.name === name);
    const mine = s.targets.filter((t) => t.at?.photo === name && (!t.plane || t.plane === at(p, t.at)));
    p.planes = planes;
    for (const t of mine) t.plane = at(p, t.at) ?? t.plane;
  }, { joins });
}

// edges are the heights that can be dragged, each once.
const edges = () => [...new Set(shapes.flatMap((s) => s.band ?? []))].filter((y) => y > 0 && y < 1).sort((a, b) => a - b);

function handle(kind, key, label, [x, y], props = {}) {
  const b = el("button", { type: "button", className: kind, "aria-label": label, place: [x, y], ...props });
  b.dataset.handle = key;
  return b;
}

function paint() {
  const held = document.activeElement?.dataset?.handle;
  const lines = document.createElementNS(svg, "svg");
  lines.setAttribute("viewBox", "0 0 1 1");
  lines.setAttribute("preserveAspectRatio", "none");
  const nodes = [lines];
  shapes.forEach((s, i) => {
    if (s.corners) {
      for (const style of ["under", "over"]) {
        const line = document.createElementNS(svg, "polygon");
        line.setAttribute("points", s.corners.map((c) => c.join()).join(" "));
        line.setAttribute("class", style);
        lines.append(line);
      }
      s.corners.forEach(([x, y], k) => {
        const [nx, ny] = s.corners[(k + 1) % s.corners.length];
        nodes.push(handle("corner", `${i} corner ${k}`, `corner ${k + 1} of ${s.plane}: arrow keys move it, Delete removes it`, [x, y]),
          handle("corner between", `${i} between ${k}`, `new corner after corner ${k + 1} of ${s.plane}`, [(x + nx) / 2, (y + ny) / 2]));
      });
    }
    nodes.push(tag(s));
  });
  edges().forEach((y, i) => nodes.push(handle("line", `edge ${i}`, `edge of ${shapes.filter((s) => s.band?.includes(y)).map((s) => s.plane).join(" and ")}`, [0, y],
    { role: "slider", "aria-orientation": "vertical", "aria-valuemin": 0, "aria-valuemax": 100, "aria-valuenow": Math.round(100 * y) })));
  const missing = Object.keys(usual).filter((p) => !shapes.some((s) => s.plane === p));
  nodes.push(el("div", { className: "lay" }, ...(shapes.length ? missing : ["four bands"]).map((p) => el("button", { type: "button", onclick: () => lay(p) }, `Lay ${p}`))));
  root.replaceChildren(...nodes);
  if (held) root.querySelector(`[data-handle="${held}"]`)?.focus();
}

function lay(plane) {
  const added = Object.entries(usual).filter(([p]) => plane === "four bands" || p === plane).map(([p, band]) => ({ plane: p, band }));
  shapes = [...shapes, ...added];
  keep(`laid ${plane}`);
}

// tag names a plane; pressed it shows what can be done with it.
function tag(s) {
  const spot = s.band ? [0, (s.band[0] + s.band[1]) / 2] : [0, 1].map((k) => s.corners.reduce((sum, c) => sum + c[k], 0) / s.corners.length);
  const on = open === s.plane;
  const name = handle("", `tag ${s.plane}`, s.plane, [0, 0], { "aria-expanded": String(on), onclick: () => { open = on ? "" : s.plane; paint(); } });
  name.textContent = s.plane;
  const node = el("div", { className: s.band ? "tag band" : "tag", place: spot }, name);
  if (on) {
    const turn = s.band ? { plane: s.plane, corners: [[0, s.band[0]], [1, s.band[0]], [1, s.band[1]], [0, s.band[1]]] }
      : { plane: s.plane, band: [Math.min(...s.corners.map((c) => c[1])), Math.max(...s.corners.map((c) => c[1]))] };
    node.append(el("button", { type: "button", onclick: () => { shapes = shapes.map((o) => (o === s ? turn : o)); keep(`${s.plane} by ${s.band ? "corners" : "a band"}`); } }, s.band ? "corners" : "band"),
      el("button", { type: "button", onclick: () => { shapes = shapes.filter((o) => o !== s); keep(`removed ${s.plane}`); } }, "remove"));
  }
  return node;
}

// move puts a handle elsewhere and gives the key it then goes by.
function move(key, x, y) {
  const [a, b, c] = key.split(" ");
  if (a === "edge") {
    const all = [0, ...edges(), 1];
    const from = all[Number(b) + 1];
    const to = round(Math.min(Math.max(y, all[Number(b)] + least), all[Number(b) + 2] - least));
    for (const s of shapes) if (s.band) s.band = s.band.map((v) => (v === from ? to : v));
    return key;
  }
  const { corners } = shapes[a];
  if (b === "between") { corners.splice(Number(c) + 1, 0, [round(x), round(y)]); return `${a} corner ${Number(c) + 1}`; }
  corners[c] = [round(x), round(y)];
  return key;
}

// part takes a corner away, unless three are left.
function part(key) {
  const [a, b, c] = key.split(" ");
  if (b !== "corner" || shapes[a].corners.length <= 3) return false;
  shapes[a].corners.splice(c, 1);
  return true;
}

function grab(e) {
  const key = e.target.closest("[data-handle]")?.dataset.handle;
  e.stopPropagation();
  if (!key || key.startsWith("tag")) return;
  e.target.focus();
  root.setPointerCapture(e.pointerId);
  drag = { key, moved: false };
}

function pull(e) {
  e.stopPropagation();
  if (!drag) return;
  const box = root.getBoundingClientRect();
  drag.key = move(drag.key, (e.clientX - box.left) / box.width, (e.clientY - box.top) / box.height);
  drag.moved = true;
  paint();
}

function drop(e) {
  e.stopPropagation();
  if (!drag) return;
  const { key, moved } = drag;
  drag = undefined;
  if (!moved) return;
  const [a, b, c] = key.split(" ");
  if (b === "corner") {
    const { corners } = shapes[a];
    const near = [corners.at(Number(c) - 1), corners[(Number(c) + 1) % corners.length]].some(([x, y]) => Math.hypot(x - corners[c][0], y - corners[c][1]) < least);
    if (near) part(key);
  }
  keep(`moved the planes of ${photo.name}`);
}

function nudge(e) {
  const key = e.target.dataset.handle;
  if (!key || key.startsWith("tag")) return;
  const step = e.shiftKey ? 0.05 : 0.005;
  const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
  if (by) {
    move(key, parseFloat(e.target.style.left) / 100 + by[0], parseFloat(e.target.style.top) / 100 + by[1]);
    keep(`moved the planes of ${photo.name}`, true);
  } else if (e.key === "Delete" && part(key)) keep(`removed a corner of ${shapes[key.split(" ")[0]].plane}`);
  else return;
  e.preventDefault();
  e.stopPropagation();
}
