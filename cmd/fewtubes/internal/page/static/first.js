// The first start: four ways to begin.
import { begin } from "./store.js";
import { byId } from "./dom.js";
import { openTyping } from "./rail.js";

export function setUpFirst() {
  byId("try-marsh").addEventListener("click", tryMarsh);
  byId("bring").addEventListener("click", () => byId("photo-file").click());
  byId("type").addEventListener("click", () => { leave(); openTyping(); });
  byId("open").addEventListener("click", () => byId("open-file").click());
  byId("open-file").addEventListener("change", (e) => { openFile(e.target.files[0]); e.target.value = ""; });
  document.addEventListener("drop", (e) => openFile([...e.dataTransfer.files].find((f) => f.name.endsWith(".toml"))));
}

// firstShown shows the offers, or the scene.
export function firstShown(on) {
  document.body.classList.toggle("first", on);
  byId("first").hidden = !on;
}

export const leave = () => firstShown(false);

async function tryMarsh() {
  leave();
  await begin("demo");
}

// openFile opens a scene file.
async function openFile(file) {
  if (!file) return;
  leave();
  await begin({ toml: await file.text() });
}
