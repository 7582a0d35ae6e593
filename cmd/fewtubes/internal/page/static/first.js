// The first start: four ways to begin.
import { begin, scene } from "./store.js";
import { byId, say } from "./dom.js";
import { postBytes, work } from "./server.js";
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
  try {
    const text = await (await fetch("/demo/salt-marsh.toml")).text();
    const opened = await (await postBytes("/open?name=salt-marsh.toml", text)).json();
    for (const p of opened.photos) {
      const data = await (await fetch(`/demo/${p.file.split("/").pop()}`)).blob();
      p.id = (await work(`/photo?name=${encodeURIComponent(p.file.split("/").pop())}`, { method: "POST", body: data }, () => {})).id;
    }
    leave();
    await begin(opened);
  } catch (err) {
    say(err.message);
  }
}

// openFile opens a scene file.
async function openFile(file) {
  if (!file) return;
  try {
    const text = await file.text();
    const opened = await (await postBytes(`/open?name=${encodeURIComponent(file.name)}`, text)).json();
    sessionStorage.setItem("opened", text);
    for (const p of opened.photos) p.id ??= scene().photos.find((q) => q.id && (q.file === p.file || q.file.split(/[\\/]/).pop() === p.file.split(/[\\/]/).pop()))?.id;
    leave();
    await begin(opened);
    say(`Opened ${file.name}.`);
  } catch (err) {
    say(err.message);
  }
}
