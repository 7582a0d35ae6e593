// The scene file: opened from disk, saved to disk with its comments.
import { state, become, original } from "./state.js";
import { byId, say } from "./dom.js";
import { postBytes, postJSON } from "./server.js";
import { awaited } from "./photos.js";

export function setUpFiles() {
  byId("open").addEventListener("click", () => byId("open-file").click());
  byId("open-file").addEventListener("change", (e) => { open(e.target.files[0]); e.target.value = ""; });
  document.addEventListener("drop", (e) => {
    const scene = [...e.dataTransfer.files].find((f) => f.name.endsWith(".toml"));
    if (scene) open(scene);
  });
  byId("save").addEventListener("click", save);
}

async function open(file) {
  if (!file) return;
  try {
    const text = await file.text();
    const scene = await (await postBytes(`/open?name=${encodeURIComponent(file.name)}`, text)).json();
    original.set(text);
    for (const p of state().photos) {
      const known = p.id && awaited(scene.photos, p.file);
      if (known) known.id = p.id;
    }
    await become(scene);
    say(`Opened ${file.name}.`);
  } catch (err) {
    say(err.message);
  }
}

async function save() {
  const s = structuredClone(state());
  delete s.held;
  for (const t of s.targets) delete t.picked;
  try {
    const response = await postJSON("/save", { scene: s, original: original.get() });
    const text = await response.text();
    original.set(text);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/toml" }));
    link.download = `${(s.title || "scene").toLowerCase().replaceAll(/[^a-z0-9]+/g, "-").replaceAll(/^-|-$/g, "") || "scene"}.toml`;
    link.click();
    URL.revokeObjectURL(link.href);
    const anew = response.headers.get("Fewtubes-Written-Anew") ? " The comments of the opened file could not be kept: it was written anew." : "";
    say(`Saved as ${link.download}.${anew}`);
  } catch (err) {
    say(err.message);
  }
}
