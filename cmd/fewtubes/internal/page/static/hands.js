// What the places for the hands share: the question they ask, and small parts.
import { scene, answer, asked } from "./store.js";
import { el, say } from "./dom.js";
import { workJSON, postBytes, bytes } from "./server.js";

export { capital } from "./column.js";
export const palette = () => answer()?.tubes?.map((t) => t.id) ?? [];

// question is the scene with what sheets and plans need besides: photographs, and
// where in them each colour lies.
export function question() {
  const { photos, targets, air } = scene();
  const one = asked();
  one.targets.forEach((t, i) => Object.assign(t, { at: targets[i].at, seen: targets[i].seen }));
  return { ...one, air, photos: photos.map(({ id, name, file, planes, values }) => ({ id, name, file, planes, values })) };
}

// tried is what f comes to, or null once its trouble is said.
export async function tried(f, wait = "") {
  try {
    if (wait) say(wait, true);
    const got = await f((words) => say(`${wait} ${words}`.trim(), true));
    if (wait) say("");
    return got;
  } catch (err) {
    say(err.message);
    return null;
  }
}

// ask asks about the scene and its palette.
export const ask = (path, more, wait) => tried((told) => workJSON(path, { scene: question(), palette: palette(), ...more }, told), wait);

// upload is the id of a photograph that is held but not kept.
export const upload = (file) => tried(async () => (await (await postBytes(`/photo?name=${encodeURIComponent(file.name)}`, file)).json()).id, "Looking at it.");

const node = (tag, className) => (...c) => el(tag, { className }, ...c.flat(9).filter((x) => x || x === 0));
export const [p, b, small, soft, h2, h3, acts, mount] = [node("p", ""), node("b", ""), node("small", ""), node("p", "soft"), node("h2", ""), node("h3", ""), node("div", "acts"), node("div", "mount")];
const list = node("ul", "rows");
export const rows = (of, row) => list(of.map((x, i) => el("li", {}, ...row(x, i).flat(9).filter(Boolean))));
export const grow = node("span", "grow");
export const folded = (words, ...c) => el("details", {}, el("summary", {}, words), ...c.flat(9));

export const button = (words, onclick, props) => el("button", { type: "button", onclick, ...props }, words);
export const square = (hex, words, more = "") => el("span", { className: `sw square ${more}`, fill: hex, title: words, role: words && "img", "aria-label": words });

// choices are buttons of which one is on.
export const choices = (label, names, now, pick) => el("div", { className: "choices", role: "group", "aria-label": label },
  ...names.map((n) => button(n, () => pick(n), { className: "choice", "aria-pressed": String(n === now) })));

// counter is a number with - and +.
export const counter = (label, shown, step) => el("span", { className: "amount", role: "group", "aria-label": label },
  button("−", () => step(-1), { "aria-label": `less: ${label}` }), b(shown), button("+", () => step(1), { "aria-label": `more: ${label}` }));

// again draws into a place, and puts the focus back on what has its words.
export function again(root, ...nodes) {
  const words = (n) => n.getAttribute("aria-label") ?? n.textContent;
  const held = root.contains(document.activeElement) && words(document.activeElement);
  root.replaceChildren(...nodes.flat(9).filter(Boolean));
  if (held) [...root.querySelectorAll("button,select,input,summary")].find((n) => words(n) === held)?.focus();
}

// touching are two colours that touch on a mount.
export const touching = (one, words, other, more) => el("div", { className: "mount touching" },
  ...[[one, words], [other, more]].map(([fill, tag]) => el("span", { className: "sw", fill }, el("span", { className: "tag" }, tag))));

export async function keep(name, path, more) {
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
    [canvas.width, canvas.height] = [map.width, map.height];
    canvas.getContext("2d").drawImage(map, 0, 0);
  });
  return canvas;
}
