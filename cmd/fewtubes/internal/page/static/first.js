// The first start: four ways to begin.
import { begin, bring } from "./store.js";
import { byId } from "./dom.js";
import { openTyping } from "./rail.js";

export function setUpFirst() {
  byId("try-marsh").addEventListener("click", tryMarsh);
  byId("bring").addEventListener("click", () => byId("photo-file").click());
  byId("type").addEventListener("click", () => { leave(); openTyping(); });
  byId("open").addEventListener("click", () => byId("open-file").click());
  byId("open-file").addEventListener("change", (e) => { openFile(e.target.files[0]); e.target.value = ""; });
  document.addEventListener("drop", (e) => openFile([...e.dataTransfer.files].find((f) => /\.(toml|zip)$/i.test(f.name))));
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
  await bring(file);
}
