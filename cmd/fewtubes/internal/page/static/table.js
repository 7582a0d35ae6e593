// The mixing table: a colour to mix, a pile to look at or to correct, and a
// sheet to practise on, all with one palette.
import { state } from "./state.js";
import { byId, el, place, say, wrong } from "./dom.js";
import { work, workJSON } from "./server.js";

export function setUpTable() {
  byId("mix-form").addEventListener("submit", (e) => {
    e.preventDefault();
    show(e.target, "/mix", { palette: palette(), colour: byId("mix-colour").value });
  });
  byId("pile-form").addEventListener("submit", (e) => {
    e.preventDefault();
    const pile = byId("pile-parts").value;
    if (e.submitter?.dataset.do === "correct") {
      show(e.target, "/correct", { palette: palette(), pile, want: byId("pile-want").value, seen: byId("pile-seen").value, tolerance: state().tolerance });
    } else show(e.target, "/pile", { pile });
  });
  byId("mix-palette").addEventListener("change", link);
  byId("chart-link").addEventListener("click", sheet);
  link();
}

const palette = () => byId("mix-palette").value.split(",").map((t) => t.trim()).filter(Boolean);

export function paletteChanged(tubes) {
  byId("mix-palette").value = tubes.join(", ");
  link();
}

function link() {
  byId("chart-link").href = `/chart.pdf?paper=A4&palette=${encodeURIComponent(palette().join(","))}`;
}

const waits = (place) => say(place, true);

// sheet keeps the practice sheet as a download does, which would not tell its
// place in the line.
async function sheet(e) {
  e.preventDefault();
  try {
    const link = el("a", { href: URL.createObjectURL(await work(e.target.href, {}, waits)), download: "practice-chart.pdf" });
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  } catch (err) {
    say(err.message);
  }
}

async function show(form, path, body) {
  try {
    const { html } = await workJSON(path, { ...body, light: state().light, surface: state().surface }, waits);
    place(byId("mixed"), html);
    byId("mixed").focus();
    wrong(form, "");
  } catch (err) {
    wrong(form, err.message);
  }
}
