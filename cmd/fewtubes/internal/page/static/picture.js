// The picture on its stage: how it is shown, the marks of picked colours, and
// picking by mouse, touch and keyboard.
import { scene, answer, chosen, choose, target, act, on } from "./store.js";
import { byId, el, say } from "./dom.js";
import { postJSON } from "./server.js";
import { setUpLens, look, hideLens, reading, scale, averaged } from "./lens.js";
import { addTargets } from "./photos.js";
import * as planes from "./planes.js";

const views = { seen: "As seen", painted: "Painted", half: "Half and half", misses: "What misses", greys: "Greys", planes: "Planes" };
const hold = 450; // ms a finger rests before it drags an area
const still = 5; // px a pointer may tremble
let name = ""; // of the photograph shown
let how = "seen";
let border = 0.5; // of half and half
let cursor = [0.5, 0.5];
let view, seen, over, edge, marks, shown;

export const photograph = () => scene().photos.find((p) => p.name === name) ?? scene().photos[0];

export function show(photo) {
  if (photo) name = photo;
  draw();
}

export function setUpPicture() {
  seen = el("img", { id: "seen", alt: "" });
  over = el("img", { id: "over", alt: "", hidden: true });
  edge = el("button", { type: "button", id: "edge", hidden: true, role: "slider", "aria-label": "border between photograph and painted", "aria-valuemin": 0, "aria-valuemax": 100 }, "‹ ›");
  marks = el("div", { id: "marks" });
  view = el("div", { id: "view", tabIndex: 0, role: "application" }, seen, over, marks, edge);
  byId("stage").append(view);
  setUpLens(view);
  byId("views").append(...Object.entries(views).map(([key, words]) => {
    const b = el("button", { type: "button", onclick: () => { how = key; draw(); } }, words);
    b.dataset.view = key;
    return b;
  }));
  const menu = el("select", { id: "views-menu", "aria-label": "How the picture is shown", onchange: (e) => { how = e.target.value; draw(); } },
    ...Object.entries(views).map(([value, words]) => el("option", { value }, words)));
  byId("views").before(menu);
  seen.addEventListener("load", () => {
    document.body.style.setProperty("--ratio", seen.naturalWidth / seen.naturalHeight);
    view.classList.add("loaded");
  });
  over.addEventListener("error", () => { if (over.getAttribute("src")) say("The painted picture could not be made."); over.hidden = true; });
  steer();
  slide();
  on("scene", draw);
  on("answer", draw);
  on("chosen", draw);
}

// source is the address of a view of a photograph at the size it is shown.
function source(photo, kind) {
  if (kind === "greys") return `/photo/${photo.id}?greys`;
  const tubes = answer()?.tubes?.map((t) => t.id);
  if (kind === "seen" || !tubes) return `/photo/${photo.id}`;
  return painted(photo, kind, tubes, byId("stage").clientWidth);
}

// painted is the address of a photograph as tubes paint it, so wide on the page.
export function painted(photo, view, tubes, width) {
  const { tolerance, light, surface, limits } = scene();
  const w = Math.min(Math.ceil(Math.max(width, 1) * devicePixelRatio), 1600);
  const asked = new URLSearchParams({ palette: tubes.join(), view, w, tolerance, light, surface: surface ?? "dry", paints: limits.paintsPerMix ?? 0 });
  if (photo.values) asked.set("values", JSON.stringify(photo.values));
  return `/painted/${photo.id}?${asked}`;
}

function put(img, src) {
  if (img.getAttribute("src") !== src) img.src = src;
}

function draw() {
  const photo = photograph();
  drawStrip(photo);
  document.body.classList.toggle("bare", !photo);
  for (const b of byId("views").children) b.setAttribute("aria-pressed", b.dataset.view === how);
  byId("views-menu").value = how;
  view.hidden = !photo?.id;
  byId("stage").dataset.empty = photo && !photo.id ? `Bring ${photo.file} to see it here and pick from it.` : "";
  if (!photo?.id) { hideLens(); marks.replaceChildren(); return; }
  if (shown !== photo.id) { shown = photo.id; view.classList.remove("loaded"); hideLens(); }
  seen.alt = photo.name;
  view.setAttribute("aria-label", `${photo.name}: arrow keys move, Shift moves farther, Enter picks, plus and minus change the circle`);
  put(seen, source(photo, how === "greys" ? "greys" : "seen"));
  const kind = { painted: "painted", half: "painted", misses: "misses" }[how];
  over.hidden = !kind || !answer()?.tubes;
  if (!over.hidden) put(over, source(photo, kind));
  edge.hidden = how !== "half" || over.hidden;
  drawEdge();
  if (how === "planes") planes.draw(view, photo);
  else planes.clear(view);
  drawMarks(photo);
}

function drawEdge() {
  const at = Math.round(border * 100);
  over.style.clipPath = how === "half" ? `inset(0 0 0 ${at}%)` : "";
  edge.style.left = `${at}%`;
  edge.setAttribute("aria-valuenow", at);
}

function drawStrip(photo) {
  const bring = el("button", { type: "button", className: "more", "aria-label": "Bring photographs", onclick: () => byId("photo-file").click() }, "+");
  const held = document.activeElement?.dataset?.photo;
  byId("photos").replaceChildren(...scene().photos.map((p) => {
    const b = el("button", { type: "button", "aria-label": p.name, "aria-pressed": String(p.name === photo?.name), onclick: () => show(p.name) },
      p.id ? el("img", { src: `/photo/${p.id}`, alt: "" }) : p.name);
    b.dataset.photo = p.name;
    return b;
  }), bring);
  if (held) byId("photos").querySelector(`[data-photo="${CSS.escape(held)}"]`)?.focus();
}

function drawMarks(photo) {
  const held = document.activeElement?.dataset?.mark;
  const [was, now] = [new Map([...marks.children].map((m) => [m.dataset.mark, m])), []];
  scene().targets.forEach((t, i) => {
    if (t.at?.photo !== photo.name) return;
    const m = was.get(t.name) ?? mark(t.name);
    m.style.left = `${t.at.x * 100}%`;
    m.style.top = `${t.at.y * 100}%`;
    m.firstChild.textContent = i + 1;
    m.setAttribute("aria-label", `${i + 1} ${t.name}: arrow keys move it, Delete removes it`);
    m.setAttribute("aria-pressed", String(t.name === chosen()));
    m.tabIndex = t.name === chosen() ? 0 : -1;
    now.push(m);
  });
  if (now.length !== marks.children.length || now.some((m, i) => m !== marks.children[i])) marks.replaceChildren(...now);
  if (held) now.find((m) => m.dataset.mark === held)?.focus();
}

const within = (v) => Math.min(Math.max(v, 0), 1);
const round = (v) => Math.round(v * 1e4) / 1e4;

function at(e) {
  const box = view.getBoundingClientRect();
  return [within((e.clientX - box.left) / box.width), within((e.clientY - box.top) / box.height)];
}

// mark is a picked colour on the picture, to be chosen or dragged elsewhere.
function mark(of) {
  const m = el("button", { type: "button", className: "mark" }, el("span", {}, ""));
  m.dataset.mark = of;
  let from;
  let moved = false;
  m.addEventListener("pointerdown", (e) => { e.stopPropagation(); from = [e.clientX, e.clientY]; moved = false; m.setPointerCapture(e.pointerId); });
  m.addEventListener("pointermove", (e) => {
    e.stopPropagation();
    if (!from) return;
    if (!moved && Math.hypot(e.clientX - from[0], e.clientY - from[1]) < still) return;
    moved = true;
    const [x, y] = at(e);
    m.style.left = `${x * 100}%`;
    m.style.top = `${y * 100}%`;
    look({ photo: photograph(), view, x, y, radius: target(of).at.radius, client: [e.clientX, e.clientY], touch: e.pointerType !== "mouse" });
  });
  m.addEventListener("pointerup", (e) => {
    e.stopPropagation();
    if (from && moved) { hideLens(); move(of, ...at(e)); }
    from = undefined;
  });
  m.addEventListener("pointercancel", () => { from = undefined; hideLens(); draw(); });
  m.addEventListener("click", () => { if (!moved) choose(of); moved = false; });
  m.addEventListener("keydown", (e) => {
    const step = (e.shiftKey ? 10 : 1) / Math.max(view.clientWidth, 1);
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
    if (by) {
      e.preventDefault();
      e.stopPropagation();
      const spot = target(of).at;
      move(of, within(spot.x + by[0]), within(spot.y + by[1]), true);
    } else if (e.key === "Delete" || e.key === "Backspace") {
      e.preventDefault();
      e.stopPropagation();
      remove(of);
      view.focus();
    }
  });
  return m;
}

async function move(of, x, y, joins = false) {
  const photo = photograph();
  const spot = { ...target(of).at, x: round(x), y: round(y) };
  try {
    const got = await picked(photo, spot);
    await act(`moved “${of}”`, (s) => { Object.assign(s.targets.find((t) => t.name === of), got, { at: spot }); }, { joins });
  } catch (err) {
    say(err.message);
    draw();
  }
}

export function remove(of) {
  return act(`removed “${of}”`, (s) => { s.targets = s.targets.filter((t) => t.name !== of); });
}

async function picked(photo, { x, y, radius }) {
  const { colour, hex, words, value } = await (await postJSON("/pick", { ...reading(photo, x, y, radius), palette: undefined })).json();
  return { colour, hex, words, value };
}

// pick adds the colour of a place, and chooses it.
async function pick(x, y, radius = averaged()) {
  const photo = photograph();
  const spot = { photo: photo.name, x: round(x), y: round(y), radius: round(radius) };
  try {
    const got = await picked(photo, spot);
    let named;
    await act(`picked “${got.words}”`, (s) => {
      addTargets(s, [{ ...got, name: got.words, plane: planes.at?.(photo, spot), area: 1, at: spot }]);
      named = s.targets.at(-1).name;
    });
    choose(named);
  } catch (err) {
    say(err.message);
  }
}

// steer is picking by pointer and keys.
function steer() {
  const down = new Map(); // pointers on the picture
  let from, area, timer, apart;
  const lens = (e, more = {}) => {
    const [x, y] = at(e);
    look({ photo: photograph(), view, x, y, client: [e.clientX, e.clientY], touch: e.pointerType !== "mouse", ...more });
  };
  const spread = () => { const [a, b] = [...down.values()]; return Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY); };
  view.addEventListener("pointerdown", (e) => {
    if (e.button > 0 || how === "planes") return;
    view.setPointerCapture(e.pointerId);
    down.set(e.pointerId, e);
    if (down.size === 2) { apart = spread(); clearTimeout(timer); from = undefined; return; }
    from = e;
    area = false;
    lens(e);
    if (e.pointerType !== "mouse") timer = setTimeout(() => { area = true; view.classList.add("area"); navigator.vibrate?.(10); }, hold);
  });
  view.addEventListener("pointermove", (e) => {
    if (how === "planes" || e.target.closest("#edge")) return;
    if (down.has(e.pointerId)) down.set(e.pointerId, e);
    if (down.size === 2) { const now = spread(); scale(now / apart); apart = now; return; }
    if (!from) { if (e.pointerType === "mouse" && !e.target.closest(".mark")) lens(e); return; }
    const far = Math.hypot(e.clientX - from.clientX, e.clientY - from.clientY);
    if (e.pointerType === "mouse") area ||= far > still;
    else if (far > still) clearTimeout(timer);
    if (area) { const [x, y] = at(from); lens(e, { x, y, radius: Math.max(far / view.clientWidth, 0.002) }); }
    else { if (e.pointerType !== "mouse") from = e; lens(e); }
  });
  view.addEventListener("pointerup", (e) => {
    clearTimeout(timer);
    down.delete(e.pointerId);
    view.classList.remove("area");
    if (!from || down.size) return;
    const far = Math.hypot(e.clientX - from.clientX, e.clientY - from.clientY);
    const spot = at(area ? from : e);
    if (e.pointerType !== "mouse") hideLens();
    if (area && far > still) pick(...spot, Math.min(far / view.clientWidth, 0.25));
    else pick(...spot);
    from = undefined;
  });
  view.addEventListener("pointercancel", (e) => { clearTimeout(timer); down.delete(e.pointerId); from = undefined; view.classList.remove("area"); hideLens(); });
  for (const kind of ["dragstart", "contextmenu"]) view.addEventListener(kind, (e) => e.preventDefault()); // a hold or a drag is ours
  view.addEventListener("pointerleave", () => { if (!from) hideLens(); });
  view.addEventListener("wheel", (e) => { e.preventDefault(); scale(e.deltaY < 0 ? 1.15 : 1 / 1.15); }, { passive: false });
  view.addEventListener("keydown", (e) => {
    if (e.target !== view) return;
    const step = e.shiftKey ? 0.05 : 1 / Math.max(view.clientWidth, 1);
    const by = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
    if (by) {
      e.preventDefault();
      cursor = cursor.map((v, i) => within(v + by[i]));
      point();
    } else if (e.key === "Enter" || e.key === " ") {
      e.preventDefault();
      pick(...cursor);
    } else if (e.key === "+" || e.key === "=") scale(1.25);
    else if (e.key === "-") scale(0.8);
    else if (e.key === "Escape") hideLens();
  });
  view.addEventListener("focus", () => { if (view.matches(":focus-visible")) point(); });
  view.addEventListener("blur", hideLens);
  document.addEventListener("keydown", (e) => {
    if (e.key !== "g" || /INPUT|TEXTAREA|SELECT/.test(document.activeElement.tagName) || e.ctrlKey || e.metaKey) return;
    how = how === "greys" ? "seen" : "greys";
    draw();
  });
}

function point() {
  const box = view.getBoundingClientRect();
  const [x, y] = cursor;
  look({ photo: photograph(), view, x, y, client: [box.left + x * box.width, box.top + y * box.height] });
}

// slide is the border of half and half, dragged or moved by keys.
function slide() {
  const put = (v) => { border = within(v); drawEdge(); };
  edge.addEventListener("pointerdown", (e) => { e.stopPropagation(); edge.setPointerCapture(e.pointerId); });
  edge.addEventListener("pointermove", (e) => { e.stopPropagation(); if (edge.hasPointerCapture(e.pointerId)) put(at(e)[0]); });
  edge.addEventListener("pointerup", (e) => e.stopPropagation());
  edge.addEventListener("keydown", (e) => {
    const by = { ArrowLeft: -0.02, ArrowRight: 0.02, Home: -1, End: 1 }[e.key];
    if (by) { e.preventDefault(); e.stopPropagation(); put(border + by); }
  });
}
