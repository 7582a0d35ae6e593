// The scene as the program keeps it. An act shows at once and is kept behind the
// painter's back, one after the other. While the program is away acts wait, and go
// on by themselves when it is back.
const tab = crypto.randomUUID();
const retry = 1500; // ms
const empty = { title: "", tolerance: 3, light: "D65", limits: {}, photos: [], targets: [] };

let doc; // as the program has it: {id, revision, scene, undo, redo, note}; id "": nowhere yet
let waiting = []; // acts not kept yet: {words, edit, joins, scene}
let tells = {}; // what the page wants to hear, see load
let sending = null;
let founding = null;
let stream = null;
let away = false;
let said = ""; // of a disk that is full

const pause = (ms) => new Promise((done) => { setTimeout(done, ms); });
const path = (more = "") => `/scenes/${doc.id}${more}`;
const slot = () => `waiting ${doc.id}`;
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);

// shown is the scene with the acts that wait.
function shown() {
  const last = waiting.at(-1);
  return last ? { ...doc, scene: last.scene, undo: last.words, redo: "" } : doc;
}

// ask sends a question until the program answers it.
async function ask(method, where, body) {
  const text = body instanceof Blob ? body : body && JSON.stringify(body);
  for (;;) {
    const response = await fetch(where, {
      method, body: text,
      keepalive: Boolean(body) && text.length < 60000, // outlives a reload
    }).catch(() => null);
    if (response && response.status !== 503) { gone(false); return response; }
    gone(true);
    await back();
  }
}

// back waits for the program. The start's secret is not shown to whoever else may
// listen there meanwhile.
async function back() {
  for (;;) {
    await pause(retry);
    const response = await fetch("/here", { credentials: "omit", cache: "no-store" }).catch(() => null);
    if (response?.ok) return;
  }
}

function gone(is) {
  if (away !== is) tells.away(is);
  away = is;
}

async function read(response) {
  if (!response.ok) throw new Error(await response.text());
  return response.json();
}

// load opens the scene of this address, or the one that was open last, and has the
// page told from then on: changed(document), away(whether), trouble(a line),
// removed(). first: nothing is kept yet.
export async function load(told) {
  tells = told;
  const { scenes, last } = await read(await ask("GET", "/scenes"));
  const wanted = /^\/s\/([a-z0-9-]+)$/.exec(location.pathname)?.[1];
  const id = [wanted, last, scenes[0]?.id].find((id) => scenes.some((s) => s.id === id));
  doc = { id: "", revision: 0, scene: structuredClone(empty), undo: "", redo: "" };
  if (id) await take(id);
  return { ...shown(), first: scenes.length === 0 };
}

async function take(id) {
  stop();
  waiting = [];
  doc = await read(await ask("GET", `/scenes/${id}`));
  if (location.pathname !== `/s/${id}`) history.replaceState(null, "", `/s/${id}${location.hash}`);
  await recover();
  follow();
}

// open takes up a kept scene.
export async function open(id) {
  await sending;
  await take(id);
  return shown();
}

// begin makes a new scene: from "demo", "empty", a scene's id, {toml} or {scene}.
export async function begin(from) {
  return open((await read(await ask("POST", "/scenes", { from }))).id);
}

// bring opens a file: a scene, or one that was handed on with its pictures.
export async function bring(file) {
  return open((await read(await ask("POST", `/open?name=${encodeURIComponent(file.name)}`, file))).id);
}

// settled gives the id of the scene, which a photograph is kept with.
export async function settled() {
  if (!doc.id) {
    founding ??= ask("POST", "/scenes", { from: "empty" }).then(read).finally(() => { founding = null; });
    const { id } = await founding;
    const acts = waiting;
    if (!doc.id) await take(id);
    waiting = acts;
  }
  return doc.id;
}

// recover goes on with what waited when the page was closed. Where the scene has
// been changed since, it becomes a scene of its own, so that both are kept.
async function recover() {
  const left = JSON.parse(sessionStorage.getItem(slot()) ?? "null");
  if (!left) return;
  if (left.base === doc.revision) {
    waiting = left.acts.map((act) => ({ ...act, edit: (s) => { for (const key of Object.keys(s)) delete s[key]; Object.assign(s, structuredClone(act.scene)); } }));
    send();
    return;
  }
  sessionStorage.removeItem(slot());
  const { scene } = left.acts.at(-1);
  if (same(scene, doc.scene)) return;
  await read(await ask("POST", "/scenes", { from: { scene: { ...scene, title: `${scene.title || "Scene"}, as this page had it` } } }));
  tells.trouble("This scene was changed elsewhere meanwhile. What this page had is kept as a scene of its own.");
}

function remember() {
  try {
    if (waiting.length === 0) sessionStorage.removeItem(slot());
    else sessionStorage.setItem(slot(), JSON.stringify({ base: doc.revision, acts: waiting.map(({ words, scene }) => ({ words, scene })) }));
  } catch { /* too much for it: this page has them still */ }
}

// keep does an act named by its words: edit changes the scene it is given, here and
// once more where another tab came first. One that joins is one with the act before,
// where that has the same words.
export function keep(words, edit, joins = false) {
  const scene = structuredClone(shown().scene);
  edit(scene);
  waiting.push({ words, edit, joins, scene });
  if (doc.id) remember();
  send();
  return shown();
}

function send() {
  sending ??= sendAll().catch((err) => tells.trouble(err.message)).finally(() => { sending = null; });
}

async function sendAll() {
  await settled();
  while (waiting.length > 0) {
    const { words, scene, joins } = waiting[0];
    const response = await ask("PUT", path(), { base: doc.revision, act: words, scene, tab, join: joins });
    if (response.status === 507) { // a full disk
      const text = await response.text();
      if (said !== text) tells.trouble(text);
      said = text;
      await pause(3 * retry);
    } else if (response.ok) {
      doc = await response.json();
      said = "";
      waiting.shift();
      remember();
    } else if (response.status === 404) { // removed elsewhere
      const { id } = await read(await ask("POST", "/scenes", { from: { scene: shown().scene } }));
      sessionStorage.removeItem(slot());
      await take(id);
      tells.trouble("This scene was removed elsewhere. What this page had is kept as a scene of its own.");
      tells.changed(shown());
    } else if (response.status === 409) {
      doc = await response.json();
      if (same(doc.scene, scene)) waiting.shift(); // it came through before
      again();
    } else { // nobody could keep it
      tells.trouble(await response.text());
      waiting.shift();
      again();
    }
  }
}

// again lays the acts that wait over the scene as it is now.
function again() {
  let { scene } = doc;
  waiting = waiting.filter((act) => {
    const next = structuredClone(scene);
    try { act.edit(next); } catch { return false; } // what it changed is gone
    scene = act.scene = next;
    return true;
  });
  remember();
  tells.changed(shown());
}

async function step(which) {
  if (away && which === "undo" && waiting.length > 1) { // nobody else has it yet
    waiting.pop();
    remember();
    tells.changed(shown());
    return;
  }
  await sending;
  if (!doc.id) return;
  doc = await read(await ask("POST", path(`/${which}`), { tab }));
  again();
}
export const undo = () => step("undo");
export const redo = () => step("redo");

function stop() {
  stream?.close();
  stream = null;
}

// follow hears what other tabs and programs do, as long as the page is looked at.
function follow() {
  stop();
  if (document.hidden || !doc?.id) return;
  const mine = stream = new EventSource(path("/follow"));
  mine.addEventListener("revision", async (e) => {
    const { revision, tab: by } = JSON.parse(e.data);
    gone(false);
    if (revision === 0) { stop(); tells.removed(); return; }
    if (by === tab) return;
    await sending;
    if (mine !== stream || revision <= doc.revision) return;
    const now = await fetch(path()).then(read).catch(() => null);
    if (!now || mine !== stream || now.revision <= doc.revision) return;
    doc = now;
    again();
  });
  mine.addEventListener("error", async () => {
    if (mine !== stream) return;
    stop();
    gone(true);
    await back();
    if (!stream) follow();
  });
}

document.addEventListener("visibilitychange", () => { if (document.hidden) stop(); else follow(); });
