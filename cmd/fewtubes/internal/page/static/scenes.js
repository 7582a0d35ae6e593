// Scenes: what is kept, as pictures to open; removed ones can come back.
import { id, scene, act, begin, bring, open, on } from "./store.js";
import { byId, el, say } from "./dom.js";
import { getJSON, postJSON } from "./server.js";

let title;
let boxed;
let kept;
let removed;
let path;

export function setUp(root) {
  title = el("input", { maxLength: 120, onchange: () => act(`named the scene “${title.value.trim()}”`, (s) => { s.title = title.value.trim(); }) });
  boxed = el("input", { type: "checkbox" });
  kept = el("ul", { className: "kept" });
  removed = el("ul", { className: "kept" });
  path = el("p", { className: "soft" });
  root.append(
    el("h2", {}, "Scenes"),
    el("div", { className: "acts" }, button("New scene", () => begin("empty").then(list), "main"), button("Open a file", () => byId("open-file").click())),
    el("h3", {}, "This scene"),
    el("label", { className: "field" }, "title ", title),
    el("div", { className: "acts" }, button("Save as a file", () => save("scene.toml", ".toml")),
      button("Hand on", () => save(`hand-on.zip${boxed.checked ? "?box=1" : ""}`, ".zip")), el("label", { className: "tick" }, boxed, "with my box and prices")),
    el("p", { className: "soft" }, "A file handed on holds the scene and its pictures, without place, time or camera."),
    el("h3", {}, "Kept"), kept, path,
    el("h3", { id: "removed-h" }, "Removed"), removed);
  on("scene", () => { if (!root.hidden && (kept.dataset.id !== id() || kept.dataset.title !== scene().title)) show(); });
}

function button(words, onclick, className = "", label = words) {
  return el("button", { type: "button", className, "aria-label": label, onclick }, words);
}

async function save(what, ending) {
  say("Writing the file…", true);
  const response = await fetch(`/scenes/${id()}/${what}`).catch(() => null);
  if (!response?.ok) { say(response ? await response.text() : "The program behind this page has stopped."); return; }
  const link = el("a", { href: URL.createObjectURL(await response.blob()), download: id() + ending });
  link.click();
  URL.revokeObjectURL(link.href);
  say(`Saved as ${link.download}.`);
}

export async function show() {
  if (document.activeElement !== title) title.value = scene().title;
  await list();
}

async function list() {
  const got = await getJSON("/scenes");
  [kept.dataset.id, kept.dataset.title] = [id(), scene().title];
  const held = document.activeElement?.dataset?.of;
  kept.replaceChildren(...got.scenes.map((s) => card(s, when(s.changed, "changed"),
    s.id === id() ? el("b", { className: "now" }, "open") : acting(s, "Open", () => open(s.id)),
    acting(s, "Copy", async () => { await begin(s.id); }),
    acting(s, "Remove", () => remove(s)))));
  removed.replaceChildren(...got.removed.map((s) => card(s, when(s.changed, "removed"),
    acting(s, "Restore", () => postJSON(`/scenes/${s.id}/restore`, {})),
    acting(s, "Forget now", (b) => forget(s, b)))));
  byId("removed-h").hidden = removed.hidden = got.removed.length === 0;
  path.textContent = `Kept on this computer, in ${got.path}. Removed scenes can be restored for 30 days.`;
  if (held) document.querySelector(`#scenes [data-of="${CSS.escape(held)}"]`)?.focus();
}

function when(time, what) {
  const at = new Date(time);
  const today = at.toDateString() === new Date().toDateString();
  return `${what} ${today ? `today, ${at.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}` : at.toLocaleDateString([], { day: "numeric", month: "long", year: "numeric" })}`;
}

function acting(s, words, f) {
  const b = button(words, async () => {
    try {
      await f(b);
      await list();
    } catch (err) {
      say(err.message);
    }
  }, "", `${words}: ${s.title || "untitled scene"}`);
  b.dataset.of = `${words} ${s.id}`;
  return b;
}

function card(s, changed, ...buttons) {
  return el("li", {},
    el("span", { className: "thumbs mount" }, ...s.thumbs.slice(0, 2).map((t) => el("img", { src: `/thumb/${t}`, alt: "", loading: "lazy" }))),
    el("div", {}, el("b", {}, s.title || "Untitled scene"), el("span", { className: "soft" }, `${s.colours} colours, ${changed}`)),
    el("div", { className: "acts" }, ...buttons));
}

async function remove(s) {
  if (s.id === id()) {
    const { scenes } = await getJSON("/scenes");
    const next = scenes.find((o) => o.id !== s.id);
    await (next ? open(next.id) : begin("empty"));
  }
  await postJSON(`/scenes/${s.id}/remove`, {});
  say(`${s.title || "The scene"} is removed. It can be restored for 30 days.`);
}

// forget asks once more: nothing brings this back.
async function forget(s, b) {
  if (!b.dataset.sure) {
    b.textContent = "Erase it";
    b.dataset.sure = "1";
    throw new Error(`Press once more to erase ${s.title || "this scene"}, its pictures and its acts for good.`);
  }
  await postJSON(`/scenes/${s.id}/forget`, {});
  say("Erased.");
}
