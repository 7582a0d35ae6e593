// Scenes: the title, and scene files opened and saved.
import { scene, act, on } from "./store.js";
import { byId, el, say } from "./dom.js";
import { postJSON } from "./server.js";

let title;

export function setUp(root) {
  title = el("input", { maxLength: 120, onchange: () => act(`named the scene “${title.value.trim()}”`, (s) => { s.title = title.value.trim(); }) });
  root.append(el("h2", {}, "Scenes"), el("label", { className: "field" }, "title ", title),
    el("button", { type: "button", onclick: () => byId("open-file").click() }, "Open a scene"),
    el("button", { type: "button", onclick: save }, "Save as a file"));
  on("scene", () => { if (!root.hidden) show(); });
}

export function show() {
  if (document.activeElement !== title) title.value = scene().title;
}

async function save() {
  const s = structuredClone(scene());
  delete s.held;
  for (const t of s.targets) delete t.picked;
  try {
    const response = await postJSON("/save", { scene: s, original: sessionStorage.getItem("opened") ?? "" });
    const text = await response.text();
    const link = el("a", { href: URL.createObjectURL(new Blob([text], { type: "application/toml" })), download: `${(s.title || "scene").toLowerCase().replaceAll(/[^a-z0-9]+/g, "-").replaceAll(/^-|-$/g, "") || "scene"}.toml` });
    link.click();
    URL.revokeObjectURL(link.href);
    say(`Saved as ${link.download}.`);
  } catch (err) {
    say(err.message);
  }
}
