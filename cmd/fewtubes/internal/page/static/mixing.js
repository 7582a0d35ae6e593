// The mixing table: the pile of a colour in parts, what was got instead, and what to
// add; strings, other ways and bases.
import { scene, choose, target, mixed, act, on } from "./store.js";
import { el, say } from "./dom.js";
import { workJSON, postJSON, getJSON, postBytes } from "./server.js";
import { catalogue } from "./tubes.js";
import { ask, palette, button, toggles, counter, again, square, touching, capital } from "./hands.js";

const faults = ["too light", "too dark", "too warm", "too cool", "too strong", "too dull"];
const steps = ["a little", "clearly", "by far"];
let table, got, more;
let look; // of the pile
let how = "by eye", fault = "", by = steps[0], seen, answered, spot, at, notation = "", said = "";
let lamp = false, from = "", of = "", all = [];

export async function setUp(root) {
  root.append(table = el("section", { id: "pile" }), got = el("section", { id: "got", tabIndex: -1 }), more = el("section", { id: "more-mixing" }));
  ({ tubes: all } = await catalogue());
  for (const kind of ["chosen", "answer", "scene"]) on(kind, () => { if (!root.hidden) fill(); });
}

export function show() {
  if (!target() && colours()[0]) choose(colours()[0].name);
  fill();
  if ("got" in document.body.dataset) {
    delete document.body.dataset.got;
    got.scrollIntoView();
    got.focus();
  }
}

const colours = () => scene().targets;
const wanted = () => target() ?? colours()[0];
const plan = () => mixed(wanted().name)?.parts ?? [];
const pile = () => wanted().pile ?? plan();
const laid = () => pile().filter((p) => p.parts).map(({ tube, in: into, ratio, times, parts }) => ({ tube, in: into, ratio, times, parts }));
const sight = () => ({ light: scene().light, surface: scene().surface, colour: wanted().colour, tolerance: wanted().tolerance ?? scene().tolerance, palette: palette(), pile: laid() });
const find = (id) => all.find((t) => t.id === id);

async function asks(path, body) {
  try {
    return await workJSON(path, { ...sight(), ...body }, (words) => say(words, true));
  } catch (err) {
    say(err.message);
    return null;
  }
}

async function fill() {
  if (!wanted() || !palette().length) {
    again(table, el("h2", {}, "Mixing table"), el("p", { className: "soft" }, "Choose a colour of the picture first; its mix comes here."));
    again(got); again(more);
    return;
  }
  const now = JSON.stringify([wanted().name, wanted().colour, palette(), laid(), scene().light]);
  if (now !== from) {
    if (of !== wanted().name) forget();
    of = wanted().name;
    from = now;
    const mine = laid().length ? await asks("/pile") : null;
    if (now !== from) return;
    look = mine;
  }
  draw();
}

// forget is what was said of another pile.
function forget() {
  fault = said = "";
  seen = answered = at = undefined;
  again(more);
}

const glyph = { 0.25: "¼", 0.5: "½", 0.75: "¾" };
const count = (p) => (Math.floor(p) || "") + (glyph[p % 1] ?? (p % 1 ? String(+(p % 1).toFixed(2)).slice(1) : "")) || "0";

function lay(words, edit) {
  const next = structuredClone(pile());
  const { name: of } = wanted();
  const changed = edit(next) ?? next;
  act(words, (s) => { s.targets.find((t) => t.name === of).pile = changed; }, { joins: true });
}

function step(i, up) {
  const p = pile()[i];
  lay(`parts of ${p.paint}`, (next) => { next[i].parts = Math.max(0, p.parts + (up ? (p.parts < 1 ? 0.25 : 1) : (p.parts <= 1 ? -0.25 : -1))); });
}

function add(id) {
  const t = find(id);
  if (!t) return;
  lay(`added ${t.name}`, (next) => next.push({ tube: id, parts: 1, paint: t.name, note: "", hex: t.masstone }));
}

// others are the tubes that do not lie there, those of the palette first.
function others() {
  const there = pile().filter((p) => !p.in).map((p) => p.tube);
  const rest = all.filter((t) => !there.includes(t.id));
  const of = (words, tubes) => tubes.length ? el("optgroup", { label: words }, ...tubes.map((t) => el("option", { value: t.id }, capital(t.name)))) : null;
  const here = (t) => palette().includes(t.id);
  return el("select", { "aria-label": "another tube", onchange: (e) => add(e.target.value) }, el("option", { value: "" }, "+ another tube"),
    of("in this palette", rest.filter(here)), of("in my box", rest.filter((t) => t.own && !here(t))), of("others", rest.filter((t) => !t.own && !here(t))));
}

function draw() {
  const w = wanted(), i = colours().indexOf(w);
  const to = (d) => button(d < 0 ? "‹" : "›", () => choose(colours()[(i + d + colours().length) % colours().length].name), { className: "round", "aria-label": d < 0 ? "the colour before" : "the next colour" });
  const seenAs = lamp ? look?.lamp : look;
  const all = pile().reduce((sum, p) => sum + p.parts, 0);
  again(table,
    el("h2", { className: "named" }, el("span", { className: "disc" }, String(i + 1)), el("span", {}, w.name), to(-1), to(1)),
    toggles("light", ["daylight", "lamplight"], lamp ? "lamplight" : "daylight", (n) => { lamp = n === "lamplight"; draw(); }),
    touching(w.hex, "wanted", seenAs?.hex ?? w.hex, lamp ? "mixed, by lamplight" : "mixed"),
    el("p", {}, el("b", {}, !look ? "No paint lies there." : lamp ? "By lamplight, against daylight: " : `${capital(look.judge)}${look.miss ? ": " : ""}`), look ? (lamp ? look.lamp.miss || "the same" : look.miss) : ""),
    el("div", { className: "mount strip" }, ...pile().filter((p) => p.parts).map((p) => { const s = el("span", { className: "sw", fill: p.hex }); s.style.flexGrow = p.parts / all; return s; })),
    el("ul", { className: "laid" }, ...pile().map((p, k) => el("li", {}, square(p.hex), el("span", { className: "what" }, capital(p.paint), el("small", {}, [p.note, p.parts && p.parts < 1 ? touches(p.parts) : ""].filter(Boolean).join("; "))),
      counter(p.note ? `${p.paint}, ${p.note}` : p.paint, count(p.parts), () => step(k, false), () => step(k, true))))),
    look ? el("p", { className: "soft order" }, look.order.split(":")[0].replace(/[^.]$/, "$&.")) : null,
    el("div", { className: "acts" }, others(),
      button("the plan’s recipe again", () => act("the plan’s recipe again", (s) => { delete s.targets.find((t) => t.name === w.name).pile; }), { className: "link", disabled: !w.pile })));
  drawGot();
  if (!more.firstChild) drawMore();
}

const touches = (p) => (p === 0.25 ? "a touch" : `${Math.round(p * 4)} touches`);

function drawGot() {
  const w = wanted();
  const eye = how === "by eye";
  again(got, el("h2", {}, "What I got"),
    toggles("how it was seen", ["by eye", "photograph", "notation"], how, (n) => { how = n; answered = seen = undefined; fault = ""; drawGot(); if (n === "photograph") got.querySelector("input").click(); }),
    eye ? [el("p", { className: "soft" }, "My pile, against the one wanted, is"),
      el("div", { className: "faults" }, ...faults.map((f) => button(f, () => { fault = f; hear(); }, { className: "choice", "aria-pressed": String(f === fault) }))),
      el("div", { className: "choices" }, ...steps.map((s) => button(s, () => { by = s; if (fault) hear(); else drawGot(); }, { className: "choice", "aria-pressed": String(s === by) })))] : null,
    how === "photograph" ? shot() : null,
    how === "notation" ? el("form", { className: "acts", onsubmit: (e) => { e.preventDefault(); notation = e.target.elements[0].value; hear(); } },
      el("input", { "aria-label": "what it looks like, in Munsell notation or another", placeholder: "5GY 4/4", value: notation, spellcheck: false }), el("button", {}, "That is it")) : null,
    answered ? told(w) : null,
    el("p", { className: "soft" }, said || (eye ? "A word is enough to mend a pile; a photograph beside a grey card, or a Munsell notation, also teaches the program your tubes." : "")),
    el("p", {}, button("What my swatches taught", taught, { className: "link" })));
}

// shot is a photograph of the pile beside a grey card, and where they lie in it.
function shot() {
  const box = el("div", { className: "shot", hidden: !spot }, spot ? el("img", { src: `/photo/${spot}`, alt: "the pile beside a grey card" }) : null);
  const marks = ["grey card", "my pile"].map((words, i) => el("button", { type: "button", className: "patch", hidden: !at?.[i], place: at?.[i], onkeydown: (e) => nudge(e, i) }, words));
  box.append(...marks);
  box.onclick = (e) => {
    if (e.target.tagName !== "IMG") return;
    const r = box.getBoundingClientRect();
    put([(e.clientX - r.left) / r.width, (e.clientY - r.top) / r.height]);
  };
  return [el("input", { type: "file", accept: "image/*,.heic,.heif", "aria-label": "a photograph of the pile beside a grey card", onchange: bring }), box,
    spot && !answered ? el("p", {}, el("b", {}, !at ? "Touch the grey card." : at.length < 2 ? "Touch my pile." : ""), " ", at ? null : button("or by keyboard", () => { at = [[0.3, 0.5], [0.7, 0.5]]; hear(); }, { className: "link" })) : null];
}

function put(place) {
  at = !at || at.length === 2 ? [place] : [at[0], place];
  answered = undefined;
  if (at.length === 2) hear(); else drawGot();
}

function nudge(e, i) {
  const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
  if (!by) return;
  e.preventDefault();
  at[i] = at[i].map((v, k) => Math.min(1, Math.max(0, v + by[k] * (e.shiftKey ? 0.1 : 0.01))));
  e.target.style.left = `${at[i][0] * 100}%`;
  e.target.style.top = `${at[i][1] * 100}%`;
  clearTimeout(nudge.wait);
  nudge.wait = setTimeout(hear, 400);
}

async function bring(e) {
  const file = e.target.files[0];
  if (!file) return;
  try {
    say("Looking at it", true);
    spot = (await (await postBytes(`/photo?name=${encodeURIComponent(file.name)}`, file)).json()).id;
    at = undefined;
    say("");
  } catch (err) {
    say(err.message);
  }
  drawGot();
}

async function hear() {
  said = "";
  answered = await asks("/got", how === "by eye" ? { eye: { fault, by } } : how === "notation" ? { seen: notation } : { photo: { id: spot, card: at[0], pile: at[1] } });
  drawGot();
}

function told(w) {
  const a = answered;
  return [touching(w.hex, "wanted", a.seen.hex, how === "by eye" ? "as I say" : "my pile"),
    el("p", {}, el("b", {}, how === "by eye" ? "As you say it: " : `${capital(a.seen.judge)}: `), how === "by eye" ? `${by} ${fault}` : a.seen.miss || "as wanted"),
    a.ways.length && !a.afresh ? a.ways.map((way, i) => el("div", { className: "add" },
      el("b", {}, i ? "Or add, half of it first:" : "Add, half of it first:"),
      el("ul", { className: "recipe-rows" }, ...way.add.map((p) => el("li", {}, square(p.hex), el("b", {}, count(p.parts)), el("span", {}, capital(p.paint), el("small", {}, p.parts < 1 ? ` ${touches(p.parts)}` : ""))))),
      el("p", {}, `Then: ${way.judge}${way.miss ? `, ${way.miss}` : ""}. To ${count(laid().reduce((s, p) => s + p.parts, 0))} parts of pile.`),
      el("p", { className: "acts" }, button("I added half", () => put1(way, 0.5)), button("I added it all", () => put1(way, 1))))) : el("p", {}, a.verdict),
    a.afresh && a.fresh ? el("p", {}, el("b", {}, "A new pile: "), a.fresh) : null,
    how === "by eye" ? null : el("p", {}, button("Remember it: teach my tubes", teach))];
}

function put1(way, share) {
  fault = "";
  answered = undefined;
  lay("added to the pile", (next) => {
    for (const p of way.add) {
      const there = next.find((o) => o.tube === p.tube && !o.in);
      if (there) there.parts += p.parts * share;
      else next.push({ ...p, parts: p.parts * share });
    }
  });
}

async function teach() {
  const photo = how === "photograph";
  await tell({ pile: laid(), seen: photo ? answered.seen.colour : notation, by: photo ? "camera" : "chip", noise: photo ? answered.noise : 0 });
}

async function tell(body) {
  try {
    const got = await (await postJSON("/teach", body)).json();
    said = got.said;
    drawGot();
    record(got);
  } catch (err) {
    say(err.message);
  }
}

const taught = async () => record(await getJSON("/taught"));

function record(doc) {
  part("What my swatches taught", doc.swatches.length ? [
    el("ul", { className: "rows" }, ...doc.swatches.map((s) => el("li", {}, square(s.hex), el("span", {}, s.recipe, el("small", {}, s.odd ? ` does not agree with the others (off by ${s.off.toFixed(1)})` : ` off ${s.off.toFixed(1)}`)), button("Take it back", () => tell({ forget: s.no }), { "aria-label": `Take back swatch ${s.no}` })))),
    ...doc.tubes.map((t) => el("p", { className: "soft" }, t))] : el("p", {}, "No swatch yet: a photograph or a notation of a pile is one."));
}

function part(words, ...nodes) {
  drawMore(el("div", { className: "part" }, el("h3", {}, words), ...nodes.flat()));
}

function drawMore(shown = null) {
  again(more, el("div", { className: "acts" },
    button("A string of values", string), button("Other ways", ways), button("Bases that lie ready", bases), button("Tints with white", tints)), shown);
  shown?.scrollIntoView({ block: "nearest" });
}

async function string() {
  const s = await asks("/string", { steps: 7 });
  if (!s) return;
  const words = el("p", { "aria-live": "polite" }, "Touch a step for its recipe.");
  part(`A string of ${wanted().name}`, el("div", { className: "mount steps" }, ...s.steps.map((r) => button("", () => { words.textContent = `${r.no}, value ${r.value}: ${r.words}${r.reached ? "" : " (it misses)"}.`; }, { fill: r.hex, "aria-label": `step ${r.no}, value ${r.value}` }))), words, el("p", { className: "soft" }, `${s.verdict} ${s.note}`));
}

async function ways() {
  const { ways } = (await asks("/mix")) ?? {};
  if (ways) part("Other ways", el("ul", { className: "rows" }, ...ways.map((way) => el("li", {}, square(way.hex), el("span", {}, capital(way.words ?? ""), el("small", {}, ` ${way.judge}${way.miss ? `: ${way.miss}` : ""}`)), button("Lay it out", () => lay("another way", () => way.parts))))));
}

async function bases() {
  const b = await ask("/bases", {}, "Looking for bases.");
  if (b) part("Bases that lie ready", el("p", { className: "soft" }, b.bases.length ? `All mixes take ${b.with} tubes and piles in hand with these, ${b.without} without.` : "No base saves anything here."),
    ...b.bases.map((one, i) => [el("p", {}, el("b", {}, `Base ${i + 1}: ${one.words}`)), el("ul", { className: "rows" }, ...one.uses.map((u) => el("li", {}, el("span", {}, `${u.target}: `, u.words))))]).flat());
}

function tints() {
  if (look) part("Tints of the pile, volumes of white to one of it", el("div", { className: "mount steps" }, ...look.tints.map((t) => el("span", { className: "sw", fill: t.hex }))), el("p", { className: "soft" }, look.tints.map((t) => `${t.white} : 1, value ${t.value}`).join("; ")));
}
