// The places of the page beside the picture. Each is a module that exports
// setUp(root), called once, and show(), called whenever it is opened; its address
// is its name behind the #, so that Back leads back.
import { tell } from "./store.js";
import { byId, el, say } from "./dom.js";

// wide places take the room of the rail as well.
const places = {
  mixing: { words: "Mixing table" },
  beside: { words: "Beside", wide: true },
  why: { words: "Why these" },
  values: { words: "Values" },
  pack: { words: "Pack" },
  print: { words: "Print" },
  box: { words: "My box" },
  scenes: { words: "Scenes" },
  help: { words: "Help" },
  more: { words: "More" },
};
let now = "";

// place is the name of the open place; "": the picture.
export const place = () => now;

export function go(name) {
  location.hash = name;
}

export function setUpPlaces() {
  for (const [name, { words, wide }] of Object.entries(places)) {
    const root = el("section", { id: name, className: wide ? "place wide" : "place", hidden: true, tabIndex: -1, "aria-label": words });
    byId("places").append(root);
  }
  addEventListener("hashchange", open);
  return open();
}

async function open() {
  const name = location.hash.slice(1);
  const of = places[name];
  if (!of && now === "" && name !== "") return; // a part of the page
  now = of ? name : "";
  document.body.dataset.place = now;
  document.body.classList.toggle("wide", of?.wide ?? false);
  for (const root of byId("places").children) root.hidden = root.id !== now;
  for (const link of document.querySelectorAll("#head a")) {
    if (link.hash.slice(1) === now && now) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  tell("place");
  if (!of) return;
  try {
    const root = byId(name);
    if (!of.module) {
      of.module = await import(`./${name}.js`);
      await of.module.setUp(root);
    }
    if (now !== name) return;
    await of.module.show();
    if (document.activeElement === document.body || document.activeElement.closest("#head, #bar")) root.focus();
  } catch (err) {
    say(err.message);
  }
}
