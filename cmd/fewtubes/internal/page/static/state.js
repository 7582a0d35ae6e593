// The scene lives in the address of the page: reload and back work, and two
// tabs never meet. The file it was opened from is kept for its comments.
import { shaped } from "./shape.js";
import { say } from "./dom.js";

const empty = () => ({ title: "", tolerance: 3, light: "D65", limits: {}, photos: [], targets: [] });

let current = empty();
const watchers = [];

export const state = () => current;
export const onChange = (f) => watchers.push(f);
const tell = () => watchers.forEach((f) => f());

export async function load() {
  current = (await unpack(location.hash.slice(1))) ?? empty();
  tell();
}

// change edits the scene, writes it to the address and redraws. Steps that
// belong together may replace the last address instead of adding one.
export async function change(edit, { replace = false } = {}) {
  edit(current);
  tell();
  const address = `#${await pack(current)}`;
  if (address === location.hash) return;
  if (replace) history.replaceState(null, "", address);
  else history.pushState(null, "", address);
}

export function become(next) {
  return change(() => { current = { ...empty(), ...next }; });
}

addEventListener("popstate", load);
addEventListener("hashchange", load);

async function through(stream, bytes) {
  return new Uint8Array(await new Response(new Blob([bytes]).stream().pipeThrough(stream)).arrayBuffer());
}

async function pack(scene) {
  const bytes = await through(new CompressionStream("deflate-raw"), new TextEncoder().encode(JSON.stringify(scene)));
  let text = "";
  for (const b of bytes) text += String.fromCharCode(b);
  return "s=" + btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

async function unpack(hash) {
  if (!hash.startsWith("s=")) return hash === "" ? null : current; // a link to a part of the page
  try {
    const text = atob(hash.slice(2).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(text, (c) => c.charCodeAt(0));
    const { kept, whole } = shaped(JSON.parse(new TextDecoder().decode(await through(new DecompressionStream("deflate-raw"), bytes))));
    if (!whole) say("Part of the scene in this page's address was not what belongs there, and was left out.");
    return { ...empty(), ...kept };
  } catch {
    say("The scene in this page's address cannot be read: it may have been cut short.");
    return null;
  }
}

// The text a scene was opened from, for this tab alone.
export const original = {
  get: () => sessionStorage.getItem("opened") ?? "",
  set: (text) => sessionStorage.setItem("opened", text),
};
