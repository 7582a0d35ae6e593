// The one store of the page: the scene, its answer, and what is chosen. Parts
// draw from it and send it named acts, which are kept and can be taken back.
import * as kept from "./kept.js";
import { say } from "./dom.js";

let doc = { id: "", revision: 0, scene: { title: "", tolerance: 3, light: "D65", limits: {}, photos: [], targets: [] }, undo: "", redo: "" };
let answered = null;
let name = "";
let last = "";
let box = [];
const watchers = { scene: [], answer: [], chosen: [], place: [], box: [] };

export const on = (kind, f) => watchers[kind].push(f);
export const tell = (kind) => watchers[kind].forEach((f) => f());

export const id = () => doc.id;
export const scene = () => doc.scene;
export const answer = () => answered;
export const chosen = () => name;
export const boxed = () => box;
export const undoes = () => doc.undo;
export const redoes = () => doc.redo;
// did is the last act in words.
export const did = () => last;

// target is the colour of a name, and mixed what the answer says of it.
export const target = (of = name) => doc.scene.targets.find((t) => t.name === of);
export const mixed = (of = name) => answered?.targets?.find((t) => t.name === of);

// asked is the question as it is sent: the scene without what no answer depends on.
export function asked() {
  const { title, tolerance, light, surface, limits, photos, targets } = doc.scene;
  return {
    title, tolerance, light, surface, limits, photos: photos.map(({ name, file, id, values, crop }) => ({ name, file, id, values, crop })),
    targets: targets.map(({ name, colour, plane, area, tolerance }) => ({ name, colour, plane, area, tolerance })),
  };
}

function become(next) {
  doc = next;
  if (name && !target()) name = "";
  tell("scene");
}

// Acts are kept one after the other.
let line = Promise.resolve();
const inTurn = (f) => (line = line.then(f).catch((err) => say(err.message)));

export async function load() {
  const { first, ...got } = await kept.load({
    changed: become,
    away: (is) => say(is ? "The program behind this page has stopped. Start fewtubes again: what you typed stays, and the page goes on by itself." : "", is) || is || tell("scene"),
    trouble: say,
    removed: () => say("This scene was removed. It can be restored among the scenes.", true),
  });
  become(got);
  if (got.note) say(got.note);
  return first;
}

// begin opens a new scene: "demo", "empty", a copy of one by its id, {toml} or
// {scene}; open one that is kept.
const opened = (how) => (from) => inTurn(async () => { name = ""; become(await how(from)); });
export const begin = opened(kept.begin);
export const open = opened(kept.open);
export const bring = opened(kept.bring);
export const settled = kept.settled;

// act edits the scene, keeps it and makes it undoable under its words. edit is run
// again where another tab came first. Steps of one gesture join.
export function act(words, edit, { joins = false } = {}) {
  last = words;
  become(kept.keep(words, edit, joins));
}

export const undo = () => { last = `took back “${doc.undo}”`; return inTurn(kept.undo); };
export const redo = () => { last = doc.redo; return inTurn(kept.redo); };

export function choose(next) {
  if (name === next) return;
  name = next;
  tell("chosen");
}

export function setAnswer(next) {
  answered = next;
  tell("answer");
}

export function setBox(next) {
  box = next;
  tell("box");
}
