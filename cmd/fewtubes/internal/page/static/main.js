// The page: what stands where, and what happens in which order.
import { load, scene, answer, undoes, redoes, undo, redo, choose, on } from "./store.js";
import { setUpPlaces, go } from "./places.js";
import { setUpAsking } from "./ask.js";
import { setUpPicture, show } from "./picture.js";
import { setUpPhotos } from "./photos.js";
import { setUpRail } from "./rail.js";
import { setUpColumn } from "./column.js";
import { setUpChanged } from "./changed.js";
import { setUpLimits } from "./limits.js";
import { setUpFirst, firstShown } from "./first.js";
import { byId, place, say } from "./dom.js";
import { loadBox } from "./tubes.js";

function drawHead() {
  const { title } = scene();
  byId("title").textContent = title || "Untitled scene";
  document.title = title ? `${title} · fewtubes` : "fewtubes";
  for (const [node, sign, words, act] of [[byId("undo"), "←", undoes(), "Take back"], [byId("redo"), "→", redoes(), "Do again"]]) {
    node.disabled = !words;
    node.setAttribute("aria-label", words ? `${act}: ${words}` : `${act}: nothing`);
    node.title = words ? `${act}: ${words}` : "";
    node.querySelector(".sign").textContent = sign;
    const said = node.querySelector(".words");
    if (said) said.textContent = words ? `${act}: ${words}` : "";
  }
}

// part shows one of the parts that share the room of narrow pages.
function part(name) {
  document.body.dataset.part = name;
  for (const b of byId("parts").querySelectorAll("[data-part]")) b.setAttribute("aria-pressed", String(b.dataset.part === name && !document.body.dataset.place));
}

byId("undo").addEventListener("click", undo);
byId("redo").addEventListener("click", redo);
for (const b of byId("parts").querySelectorAll("[data-part]")) b.addEventListener("click", () => { part(b.dataset.part); go(""); });
document.querySelector(".skip").addEventListener("click", (e) => { e.preventDefault(); byId("answer").focus(); });
document.addEventListener("keydown", (e) => {
  if (e.key === "Escape" && !document.querySelector("dialog[open]")) choose("");
  if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "z" && !/INPUT|TEXTAREA/.test(document.activeElement.tagName)) {
    e.preventDefault();
    (e.shiftKey ? redo : undo)();
  }
});
// What is printed is the whole report, whatever place is open.
addEventListener("beforeprint", () => place(byId("paper"), answer()?.html ?? ""));
addEventListener("afterprint", () => byId("paper").replaceChildren());
setUpChanged();
setUpAsking();
setUpPicture();
setUpPhotos((name) => { firstShown(false); show(name); });
setUpRail();
setUpColumn();
setUpLimits();
setUpFirst();
on("scene", drawHead);
on("place", () => part(document.body.dataset.part ?? "scene"));
part("scene");
await loadBox().catch((err) => say(err.message, true));
const first = await load();
firstShown(first && scene().targets.length === 0 && scene().photos.length === 0);
on("scene", () => { if (scene().targets.length || scene().photos.length) firstShown(false); });
await setUpPlaces();
document.body.dataset.ready = "";
