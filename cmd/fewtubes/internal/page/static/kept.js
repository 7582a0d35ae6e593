// The scene as it is kept. Until the program keeps it, this tab does: the scene,
// the acts that can be taken back and those that can be done again.
const empty = () => ({ title: "", tolerance: 3, light: "D65", limits: {}, photos: [], targets: [] });
const key = "fewtubes";
let held;

// A document is {id, revision, scene, undo, redo}: undo and redo are the words of
// the act that would be taken back or done again, or "".
const doc = () => ({
  id: "here", revision: held.revision, scene: structuredClone(held.scene),
  undo: held.past.at(-1)?.words ?? "", redo: held.future.at(-1)?.words ?? "",
});

function write() {
  held.revision++;
  try { sessionStorage.setItem(key, JSON.stringify(held)); } catch { /* this tab goes on without */ }
  return doc();
}

// load gives the scene that was open last; first: nothing has been kept yet.
export async function load() {
  try { held = JSON.parse(sessionStorage.getItem(key)); } catch { held = null; }
  const first = !held;
  held ??= { revision: 0, scene: empty(), past: [], future: [] };
  return { ...doc(), first };
}

// begin opens a new scene.
export async function begin(scene) {
  held = { revision: 0, scene: { ...empty(), ...scene }, past: [], future: [] };
  return write();
}

// keep writes the scene after an act named by its words; where it joins the act
// before, both are taken back as one.
export async function keep(words, scene, joins) {
  const last = held.past.at(-1);
  if (!(joins && last?.words === words)) held.past.push({ words, scene: held.scene });
  held.past = held.past.slice(-100);
  held.future = [];
  held.scene = structuredClone(scene);
  return write();
}

function step(from, to) {
  const last = held[from].pop();
  if (last) {
    held[to].push({ words: last.words, scene: held.scene });
    held.scene = last.scene;
  }
  return write();
}
export const undo = async () => step("past", "future");
export const redo = async () => step("future", "past");

// follow calls back with the document when it changed elsewhere.
export function follow() {}
