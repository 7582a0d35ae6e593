// Photographs brought in; the first are looked at for colours by themselves.
import { scene, act, settled } from "./store.js";
import { byId, say } from "./dom.js";
import { work, workJSON } from "./server.js";

export const suggested = 14;

export function setUpPhotos(shown) {
  byId("photo-file").addEventListener("change", (e) => { bring([...e.target.files], shown); e.target.value = ""; });
  for (const kind of ["dragover", "dragleave", "drop"]) {
    document.addEventListener(kind, (e) => {
      e.preventDefault();
      document.body.classList.toggle("over", kind === "dragover");
      if (kind === "drop") bring([...e.dataTransfer.files].filter((f) => !/\.(toml|zip)$/.test(f.name)), shown);
    });
  }
}

export function freshName(base, taken) {
  let name = base;
  for (let n = 2; taken.includes(name); n++) name = `${base} ${n}`;
  return name;
}

// addTargets puts colours into a scene, each under a name of its own.
export function addTargets(s, list) {
  for (const t of list) {
    const { name, colour, hex, words, value, plane, area, tolerance, at } = t;
    s.targets.push({ name: freshName(name, s.targets.map((o) => o.name)), colour, hex, words, value, plane, area: area ?? 1, tolerance, at });
  }
}

// awaited is the photograph of the scene that a file is: a browser tells its name
// alone, a scene its path.
export function awaited(photos, file) {
  const last = (path) => path.split(/[\\/]/).pop();
  return photos.find((p) => p.file === file) ?? photos.find((p) => !p.id && last(p.file) === last(file));
}

async function bring(files, shown) {
  const first = scene().photos.length === 0;
  let last;
  for (const file of files) {
    const told = (place) => say(place ? `${file.name} is ${place}` : `Opening ${file.name}…`, true);
    told("");
    try {
      const got = await work(`/photo?scene=${await settled()}&name=${encodeURIComponent(file.name)}`, { method: "POST", body: file }, told);
      await act(`brought ${got.file}`, (s) => {
        const known = awaited(s.photos, got.file);
        if (known) { known.id = got.id; return; }
        const base = got.file.replace(/\.[^.]*$/, "") || "photograph";
        s.photos.push({ name: freshName(base, s.photos.map((p) => p.name)), file: got.file, id: got.id });
      });
      last = got.id;
      say(got.notes.join(" "));
    } catch (err) {
      say(err.message);
    }
  }
  if (last) shown(scene().photos.find((p) => p.id === last)?.name);
  if (first && last && scene().targets.length === 0) await suggest(scene().photos.filter((p) => p.id));
}

// removePhoto takes a photograph out of the scene; its colours stay.
export function removePhoto(name) {
  act(`removed ${name}`, (s) => {
    s.photos = s.photos.filter((p) => p.name !== name);
    for (const t of s.targets) if (t.at?.photo === name) delete t.at;
  });
}

// suggest adds colours found in photographs; what is there already stays.
export async function suggest(photos, n = suggested, fitValues = true) {
  const told = (place) => say(place || "Looking at the photographs for colours…", true);
  told("");
  try {
    const got = await workJSON("/suggest", { photos, targets: n, planes: photos.flatMap((p) => p.planes ?? []), fitValues }, told);
    await act("suggested colours", (s) => {
      s.photos = s.photos.map((p) => got.photos.find((q) => q.name === p.name) ?? p);
      addTargets(s, got.targets);
    });
    say(`${got.targets.length} colours suggested. ${got.uncovered || "Take them away, move them, add your own."}`);
  } catch (err) {
    say(err.message);
  }
}
