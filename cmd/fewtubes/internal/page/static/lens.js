// The lens: what would be picked where the pointer stands, as the program reads it.
import { scene, answer, asked } from "./store.js";
import { byId, el } from "./dom.js";
import { postJSON } from "./server.js";

const [least, most] = [0.002, 0.2]; // of the picture's width
let radius = 0.01;
let box;
let circle;
let wanted; // the place asked for last
let asking = false;

export const averaged = () => radius;

// scale makes the averaging circle larger or smaller.
export function scale(by) {
  radius = Math.min(Math.max(radius * by, least), most);
  if (wanted) look(wanted);
}

export function setUpLens(view) {
  circle = el("span", { className: "circle", hidden: true });
  box = el("div", { id: "lens", hidden: true, "aria-hidden": "true" });
  view.append(circle);
  document.body.append(box);
}

export function hideLens() {
  wanted = undefined;
  box.hidden = circle.hidden = true;
}

// look shows what would be picked at {photo, view, x, y, radius, client, touch};
// x and y are fractions of the picture.
export function look(at) {
  wanted = at;
  const r = at.radius ?? radius;
  const { width } = at.view.getBoundingClientRect();
  circle.hidden = false;
  circle.style.left = `${at.x * 100}%`;
  circle.style.top = `${at.y * 100}%`;
  circle.style.width = circle.style.height = `${Math.max(2 * r * width, 6)}px`;
  stand(at);
  if (!asking) read();
}

// stand puts the lens above the pointer, on touch in the corner away from the finger.
function stand({ view, client: [x, y], touch }) {
  const area = view.getBoundingClientRect();
  const [w, h] = [208, box.offsetHeight || 120];
  let left = Math.min(Math.max(x - w / 2, 8), innerWidth - w - 8);
  let top = y - h - 32;
  if (top < 8) { top = y + 32; }
  if (touch) {
    left = x < area.left + area.width / 2 ? Math.min(area.right, innerWidth) - w - 8 : Math.max(area.left, 0) + 8;
    top = Math.max(area.top, 0) + 8;
  }
  box.style.left = `${left}px`;
  box.style.top = `${top}px`;
}

// reading is the question the lens and a pick ask.
export function reading(photo, x, y, r = radius) {
  const { light, surface } = asked();
  const values = scene().photos.find((p) => p.name === photo.name)?.values;
  return { photo: photo.id, x, y, radius: r, values, light, surface, palette: answer()?.tubes?.map((t) => t.id) };
}

async function read() {
  asking = true;
  try {
    while (wanted) {
      const at = wanted;
      const got = await (await postJSON("/pick", reading(at.photo, at.x, at.y, at.radius))).json();
      if (wanted) draw(got);
      if (wanted === at) break;
    }
  } catch {
    hideLens();
  } finally {
    asking = false;
  }
}

function draw({ hex, value, chroma, lean, mix }) {
  box.replaceChildren(
    el("span", { className: "twin" }, el("span", { className: "sw", fill: hex }), mix ? el("span", { className: "sw", fill: mix.hex }) : null),
    el("span", { className: "figures" }, el("b", {}, `value ${value}`), [chroma && `chroma ${chroma}`, lean].filter(Boolean).map((t) => ` · ${t}`).join("")),
    mix ? el("span", { className: "figures" }, mix.words) : "");
  const hidden = box.hidden;
  box.hidden = false;
  if (hidden && wanted) stand(wanted);
  byId("lens").dataset.hex = hex;
}
