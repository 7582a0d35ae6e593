// What the places for the hands share: the question they ask, and a few small parts.
import { scene, answer, asked } from "./store.js";
import { el, say } from "./dom.js";
import { workJSON, bytes } from "./server.js";

export const capital = (s) => s.charAt(0).toUpperCase() + s.slice(1);
export const palette = () => answer()?.tubes?.map((t) => t.id) ?? [];

// question is the scene with what sheets and plans need besides: photographs, and
// where in them each colour lies.
export function question() {
  const { photos, targets, air } = scene();
  const one = asked();
  one.targets.forEach((t, i) => Object.assign(t, { at: targets[i].at, seen: targets[i].seen }));
  return { ...one, air, photos: photos.map(({ id, name, file, planes, values }) => ({ id, name, file, planes, values })) };
}

// ask asks for an answer about the scene and its palette; its trouble is said.
export async function ask(path, more = {}, wait = "") {
  try {
    say(wait, true);
    const got = await workJSON(path, { scene: question(), palette: palette(), ...more }, (words) => say(wait && words ? `${wait} ${words}` : words || wait, true));
    say("");
    return got;
  } catch (err) {
    say(err.message);
    return null;
  }
}

export const button = (words, act, props = {}) => el("button", { type: "button", onclick: act, ...props }, words);

// toggles are buttons of which one is on.
export function toggles(label, names, now, pick) {
  return el("div", { className: "choices", role: "group", "aria-label": label }, ...names.map((n) =>
    button(n, () => pick(n), { className: "choice", "aria-pressed": String(n === now) })));
}

// counter is a number with - and +.
export function counter(label, shown, less, more) {
  return el("span", { className: "counter", role: "group", "aria-label": label },
    button("−", less, { "aria-label": `less: ${label}` }), el("b", { "aria-live": "polite" }, shown), button("+", more, { "aria-label": `more: ${label}` }));
}

// again draws into a place, and puts the focus back on what has its words.
export function again(root, ...nodes) {
  const held = root.contains(document.activeElement) ? document.activeElement : null;
  const words = (n) => n.getAttribute("aria-label") ?? n.textContent;
  root.replaceChildren(...nodes.flat(9).filter(Boolean));
  if (held) [...root.querySelectorAll(held.tagName)].find((n) => words(n) === words(held))?.focus();
}

export const square = (hex, words, size = "") => el("span", { className: `sw square ${size}`, fill: hex, title: words, role: words ? "img" : null, "aria-label": words });

// touching are two colours that touch on a mount.
export const touching = (a, words, b, other) => el("div", { className: "mount touching" },
  el("span", { className: "sw", fill: a }, el("span", { className: "tag" }, words)), el("span", { className: "sw", fill: b }, el("span", { className: "tag" }, other)));

export async function keep(name, path, more = {}) {
  const file = await ask(path, more, "Drawing it.");
  if (file) save(file, name);
}

export function save(file, name) {
  const link = el("a", { href: URL.createObjectURL(file), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

// picture draws a PNG that came with an answer.
export function picture(png, words) {
  const canvas = el("canvas", { role: "img", "aria-label": words });
  createImageBitmap(new Blob([bytes(png)])).then((map) => {
    canvas.width = map.width;
    canvas.height = map.height;
    canvas.getContext("2d").drawImage(map, 0, 0);
  });
  return canvas;
}
