// Photographs: dropped, shown in colour or in greys, and picked from by
// pointer or keyboard with a magnifier.
import { state, change } from "./state.js";
import { byId, el, say, wrong } from "./dom.js";
import { postJSON, work, workJSON } from "./server.js";
import { addTargets, freshName } from "./targets.js";

const radii = [0.004, 0.01, 0.02, 0.04]; // of the width
let radius = radii[1];
let greys = false;
const cursors = new Map(); // photograph -> where the keyboard stands, fractions

export function setUpPhotos() {
  const drop = byId("drop");
  byId("add").addEventListener("click", () => byId("photo-file").click());
  byId("photo-file").addEventListener("change", (e) => { add([...e.target.files]); e.target.value = ""; });
  for (const kind of ["dragover", "dragleave", "drop"]) {
    document.addEventListener(kind, (e) => {
      e.preventDefault();
      drop.classList.toggle("over", kind === "dragover");
      if (kind === "drop") add([...e.dataTransfer.files].filter((f) => !f.name.endsWith(".toml")));
    });
  }
  byId("suggest").addEventListener("submit", (e) => { e.preventDefault(); suggest(); });
  document.addEventListener("keydown", (e) => {
    if (e.key === "g" && !/INPUT|TEXTAREA|SELECT/.test(document.activeElement.tagName)) showGreys(!greys);
  });
}

// awaited is the photograph of the scene that a file is: a browser tells its name
// alone, a scene its path.
export function awaited(photos, file) {
  const last = (path) => path.split(/[\\/]/).pop();
  return photos.find((p) => p.file === file) ?? photos.find((p) => !p.id && last(p.file) === last(file));
}

async function add(files) {
  for (const file of files) {
    const told = (place) => say(place ? `${file.name} is ${place}` : `Opening ${file.name}…`, true);
    told("");
    try {
      const got = await work(`/photo?name=${encodeURIComponent(file.name)}`, { method: "POST", body: file }, told);
      await change((s) => {
        const known = awaited(s.photos, got.file);
        if (known) { known.id = got.id; return; }
        const base = got.file.replace(/\.[^.]*$/, "") || "photograph";
        s.photos.push({ name: freshName(base, s.photos.map((p) => p.name)), file: got.file, id: got.id });
      });
      say(got.notes.join(" "));
    } catch (err) {
      say(err.message);
    }
  }
}

async function suggest() {
  const photos = state().photos.filter((p) => p.id);
  const planes = byId("suggest-planes").value.split(",").map((t) => t.trim()).filter(Boolean);
  const told = (place) => say(place || "Looking at the photographs…", true);
  told("");
  try {
    const body = { photos, targets: Number(byId("suggest-n").value), planes, fitValues: byId("suggest-fit").checked };
    const got = await workJSON("/suggest", body, told);
    await change((s) => {
      s.photos = s.photos.map((p) => got.photos.find((q) => q.name === p.name) ?? p);
      s.targets = s.targets.filter((t) => !t.at || t.picked);
      addTargets(s, got.targets);
    });
    wrong(byId("suggest"), "");
    say(`${got.targets.length} colours suggested.`);
  } catch (err) {
    say("");
    wrong(byId("suggest"), err.message);
  }
}

// showGreys puts the values of every photograph beside it, or takes them away.
function showGreys(on) {
  greys = on;
  for (const shot of document.querySelectorAll(".shot")) besides(shot);
}

function besides(shot) {
  const box = shot.querySelector("[name=greys]");
  if (!box) return;
  box.checked = greys;
  const frame = shot.querySelector(".frame");
  frame.querySelector(".greys")?.remove();
  if (greys) {
    const { src, alt } = frame.querySelector("img").dataset;
    frame.append(el("img", { className: "greys", src: `${src}?greys`, alt, draggable: false }));
  }
}

export function drawPhotos() {
  const box = byId("photos");
  const wanted = state().photos;
  byId("suggest").hidden = !wanted.some((p) => p.id);
  for (const shot of [...box.children]) {
    if (!wanted.some((p) => `${p.name}/${p.id ?? ""}` === shot.dataset.key)) shot.remove();
  }
  for (const p of wanted) {
    const key = `${p.name}/${p.id ?? ""}`;
    let shot = [...box.children].find((c) => c.dataset.key === key);
    if (!shot) box.append(shot = p.id ? frame(p, key) : missing(p, key));
    if (p.id) marks(shot, p);
  }
}

function missing(p, key) {
  const shot = el("figure", { className: "shot" }, el("figcaption", {}, el("b", {}, p.name), el("span", {}, `drop ${p.file} here to see it and pick from it`), removal(p)));
  shot.dataset.key = key;
  return shot;
}

function removal(p) {
  return el("button", { type: "button", "aria-label": `Remove ${p.name}`, onclick: () => change((s) => {
    s.photos = s.photos.filter((q) => q.name !== p.name);
    for (const t of s.targets) if (t.at?.photo === p.name) delete t.at;
  }) }, "Remove");
}

function frame(p, key) {
  const img = el("img", { alt: `${p.name}, to pick colours from`, draggable: false });
  img.src = img.dataset.src = `/photo/${p.id}`;
  img.dataset.alt = `${p.name} in greys`;
  const view = el("div", { className: "view", tabIndex: 0, role: "application", "aria-label": `Pick from ${p.name}: arrow keys move, Shift moves farther, Enter picks` }, img);
  img.addEventListener("error", () => change((s) => { const q = s.photos.find((o) => o.name === p.name); if (q) delete q.id; }, { replace: true }));
  view.addEventListener("pointermove", (e) => lens(img, at(img, e), e));
  view.addEventListener("pointerleave", () => { byId("lens").hidden = true; });
  view.addEventListener("click", (e) => { if (e.target === img) pick(p, at(img, e)); });
  view.addEventListener("keydown", (e) => steer(e, p, view, img));
  view.addEventListener("focus", () => drawCursor(p, view, img));
  view.addEventListener("blur", () => { view.querySelector(".cursor")?.remove(); byId("lens").hidden = true; });
  const sizes = el("select", { "aria-label": "size of the patch that is averaged", onchange: (e) => { radius = Number(e.target.value); } },
    ...["a point", "small", "medium", "large"].map((word, i) => el("option", { value: radii[i], selected: radii[i] === radius }, word)));
  const shot = el("figure", { className: "shot" },
    el("div", { className: "frame" }, view),
    el("figcaption", {}, el("b", {}, p.name),
      el("label", {}, "averaging ", sizes),
      el("label", {}, el("input", { type: "checkbox", name: "greys", checked: greys, onchange: (e) => showGreys(e.target.checked) }), " greys (key g)"),
      removal(p)));
  shot.dataset.key = key;
  besides(shot);
  return shot;
}

function at(img, e) {
  const box = img.getBoundingClientRect();
  const within = (v) => Math.min(Math.max(v, 0), 1);
  return [within((e.clientX - box.left) / box.width), within((e.clientY - box.top) / box.height)];
}

async function pick(p, [x, y]) {
  const round = (v) => Math.round(v * 1e4) / 1e4;
  const spot = { photo: p.name, x: round(x), y: round(y), radius };
  try {
    const values = state().photos.find((q) => q.name === p.name)?.values;
    const got = await (await postJSON("/pick", { photo: p.id, x: spot.x, y: spot.y, radius, values })).json();
    await change((s) => addTargets(s, [{ ...got, name: got.words, area: 1, at: spot, picked: true }]));
    say(`Picked ${got.words}, value ${got.value}.`);
  } catch (err) {
    say(err.message);
  }
}

function steer(e, p, view, img) {
  if (e.target !== view) return;
  const here = cursors.get(p.name) ?? [0.5, 0.5];
  const step = e.shiftKey ? 0.05 : 1 / Math.max(img.clientWidth, 1);
  const moves = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
  if (moves[e.key]) {
    e.preventDefault();
    cursors.set(p.name, here.map((v, i) => Math.min(Math.max(v + moves[e.key][i], 0), 1)));
    drawCursor(p, view, img);
  } else if (e.key === "Enter" || e.key === " ") {
    e.preventDefault();
    pick(p, here);
  }
}

function drawCursor(p, view, img) {
  view.querySelector(".cursor")?.remove();
  const here = cursors.get(p.name) ?? [0.5, 0.5];
  view.append(el("span", { className: "cursor", place: here }));
  const box = img.getBoundingClientRect();
  lens(img, here, { clientX: box.left + here[0] * box.width, clientY: box.top + here[1] * box.height });
}

// lens shows the pixels around a place, six times as large or less so that the
// whole of the averaged patch is seen, on a mid grey mount.
function lens(img, [x, y], e) {
  if (!img.naturalWidth) return;
  const box = byId("lens");
  const canvas = box.firstElementChild;
  const c = canvas.getContext("2d");
  const patch = Math.max(radius * img.naturalWidth, 0.5);
  const side = Math.max(22, 2.5 * patch);
  c.imageSmoothingEnabled = false;
  c.fillStyle = "#959595";
  c.fillRect(0, 0, canvas.width, canvas.height);
  c.drawImage(img, x * img.naturalWidth - side / 2, y * img.naturalHeight - side / 2, side, side, 0, 0, canvas.width, canvas.height);
  const r = patch / side * canvas.width;
  for (const [style, width] of [["#111", 3], ["#fff", 1.5]]) {
    c.strokeStyle = style;
    c.lineWidth = width;
    c.beginPath();
    c.arc(canvas.width / 2, canvas.height / 2, r, 0, 7);
    c.stroke();
  }
  box.hidden = false;
  box.style.left = `${Math.min(e.clientX + 24, innerWidth - 160)}px`;
  box.style.top = `${Math.max(e.clientY - 160, 8)}px`;
}

// marks are the picks of a photograph, nudged by the arrow keys.
function marks(shot, p) {
  const view = shot.querySelector(".view");
  const held = document.activeElement?.dataset?.mark;
  view.querySelectorAll(".pick").forEach((m) => m.remove());
  state().targets.forEach((t, i) => {
    if (t.at?.photo !== p.name) return;
    const mark = el("button", { type: "button", className: "pick", place: [t.at.x, t.at.y], title: t.name, "aria-label": `${i + 1} ${t.name}: arrow keys nudge the pick, Delete removes it` }, String(i + 1));
    mark.dataset.mark = t.name;
    mark.addEventListener("keydown", (e) => nudge(e, p, t, view.querySelector("img")));
    view.append(mark);
    if (held === t.name) mark.focus();
  });
}

async function nudge(e, p, target, img) {
  if (e.key === "Delete" || e.key === "Backspace") {
    e.preventDefault();
    await change((s) => { s.targets = s.targets.filter((t) => t.name !== target.name); });
    return;
  }
  const step = (e.shiftKey ? 10 : 1) / Math.max(img.clientWidth, 1);
  const move = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] }[e.key];
  if (!move) return;
  e.preventDefault();
  const round = (v) => Math.round(Math.min(Math.max(v, 0), 1) * 1e4) / 1e4;
  const spot = { ...target.at, x: round(target.at.x + move[0]), y: round(target.at.y + move[1]) };
  const values = state().photos.find((q) => q.name === p.name)?.values;
  const got = await (await postJSON("/pick", { photo: p.id, x: spot.x, y: spot.y, radius: spot.radius, values })).json();
  await change((s) => { Object.assign(s.targets.find((t) => t.name === target.name), got, { at: spot, picked: true }); }, { replace: true });
}
