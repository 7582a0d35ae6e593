// The mixing table: a colour to mix, a pile to look at or to correct.
import { scene, answer, asked, on } from "./store.js";
import { el, place, wrong, say } from "./dom.js";
import { workJSON } from "./server.js";

let fields;
let out;
const waits = (place) => say(place, true);
const field = (name, label, placeholder) => el("label", { className: "field" }, `${label} `, fields[name] = el("input", { name, placeholder, spellcheck: false }));

export function setUp(root) {
  fields = {};
  out = el("div", { className: "report", tabIndex: -1, role: "region", "aria-label": "From the mixing table" });
  const mix = el("form", { onsubmit: (e) => { e.preventDefault(); ask(mix, "/mix", { palette: palette(), colour: fields.colour.value }); } },
    field("palette", "palette"), field("colour", "a colour to mix", "lab(38 4 9)"), el("button", {}, "Mix"));
  const pile = el("form", { onsubmit: (e) => {
    e.preventDefault();
    const parts = fields.parts.value;
    if (e.submitter?.value === "correct") ask(pile, "/correct", { palette: palette(), pile: parts, want: fields.want.value, seen: fields.seen.value, tolerance: scene().tolerance });
    else ask(pile, "/pile", { pile: parts });
  } },
  field("parts", "a pile in parts", "3:ultramarine-blue, 1:yellow-ochre"), el("button", {}, "Look at it"),
  field("want", "should be", "lab(38 4 9)"), field("seen", "looks like", "as computed"), el("button", { value: "correct" }, "What to add"));
  root.append(el("h2", {}, "Mixing table"), mix, pile, out);
  on("answer", fill);
}

export const show = () => fill();

function fill() {
  if (answer()?.tubes) fields.palette.value = answer().tubes.map((t) => t.id).join(", ");
}

const palette = () => fields.palette.value.split(",").map((t) => t.trim()).filter(Boolean);

async function ask(form, path, body) {
  try {
    const { light, surface } = asked();
    const { html } = await workJSON(path, { ...body, light, surface }, waits);
    place(out, html);
    out.focus();
    wrong(form, "");
  } catch (err) {
    wrong(form, err.message);
  }
}
