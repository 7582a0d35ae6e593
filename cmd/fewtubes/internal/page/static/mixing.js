// The mixing table: the pile of a colour in parts, what was got instead, and what to
// add; strings, other ways, bases and tints.
import { scene, answer, choose, target, mixed, act, on, setBox } from "./store.js";
import { el } from "./dom.js";
import { workJSON, postJSON, getJSON } from "./server.js";
import { ask as answerAnew } from "./ask.js";
import { catalogue } from "./tubes.js";
import { acts, again, ask, b, button, capital, choices, counter, grow, h2, h3, p, palette, rows, small, soft, square, touching, tried, upload } from "./hands.js";

const faults = ["too light", "too dark", "too warm", "too cool", "too strong", "too dull"];
const steps = ["a little", "clearly", "by far"];
let table, got, more, all, safety;
let look, from, of; // of the pile; what it answers; the colour it is of
let lamp = false, how = "by eye", by = steps[0], fault, answered, spot, at, notation = "", said;

export async function setUp(root) {
  const part = (id) => el("section", { id, tabIndex: -1 });
  root.append(table = part("pile"), got = part("got"), more = part("aside"));
  ({ tubes: all, safety } = await catalogue());
  for (const kind of ["chosen", "answer", "scene"]) on(kind, () => root.hidden || fill());
}

export async function show() {
  if (!target() && scene().targets[0]) choose(scene().targets[0].name);
  await fill();
  if (!("got" in document.body.dataset)) return;
  delete document.body.dataset.got;
  got.scrollIntoView();
  got.focus({ preventScroll: true });
}

const wanted = () => target() ?? scene().targets[0];
const pile = () => wanted().pile ?? mixed(wanted().name)?.parts ?? [];
const laid = () => pile().filter((x) => x.parts).map(({ tube, in: into, ratio, times, parts }) => ({ tube, in: into, ratio, times, parts }));
const total = () => pile().reduce((sum, x) => sum + x.parts, 0);

function asks(path, body) {
  const { light, surface, tolerance } = scene();
  const w = wanted();
  return tried((told) => workJSON(path, { light, surface, colour: w.colour, tolerance: w.tolerance ?? tolerance, palette: palette(), pile: laid(), ...body }, told));
}

async function fill() {
  if (!wanted() || !palette().length) {
    again(table, h2("Mixing table"), soft("First come colours and a palette; then each mix lies here."));
    again(got);
    return again(more);
  }
  const now = JSON.stringify([wanted().colour, palette(), laid(), scene().light]);
  if (of !== wanted().name) fault = said = answered = at = undefined;
  if (now !== from) {
    if (of !== wanted().name) aside();
    [of, from] = [wanted().name, now];
    const mine = laid().length ? await asks("/pile") : null;
    if (now !== from) return;
    look = mine;
  }
  draw();
}

const count = (n) => `${Math.floor(n) || ""}${{ 0.25: "¼", 0.5: "½", 0.75: "¾" }[n % 1] ?? (n % 1 ? (n % 1).toFixed(2).slice(1) : "")}` || "0";
const touches = (n) => (n <= 0.25 ? "a touch" : `${Math.round(n * 4)} touches`);
const noted = (x) => small([x.note, x.parts > 0 && x.parts < 1 && touches(x.parts)].filter(Boolean).join("; "));
const minded = (x) => { const of = all.find((t) => t.id === x.tube)?.hazards?.join(", "); return of && b(of); };
const miss = (x) => (x.miss ? `: ${x.miss}` : "");

function lay(words, edit) {
  const next = structuredClone(pile()), { name } = wanted();
  edit(next);
  act(words, (s) => { s.targets.find((t) => t.name === name).pile = next; }, { joins: true });
}

const put = (next, parts, x) => {
  const there = next.find((o) => o.tube === x.tube && !o.in);
  if (there) there.parts += parts;
  else next.push({ ...x, parts });
};

function another() {
  const rest = all.filter((t) => !pile().some((x) => x.tube === t.id && !x.in));
  const shelf = (t) => (palette().includes(t.id) ? "in this palette" : t.own ? "in my box" : "others");
  const group = (label) => el("optgroup", { label }, ...rest.filter((t) => shelf(t) === label).map((t) => el("option", { value: t.id }, capital(t.name))));
  return el("select", { "aria-label": "another tube", onchange: (e) => {
    const t = all.find((o) => o.id === e.target.value);
    lay(`added ${t.name}`, (next) => put(next, 1, { tube: t.id, paint: t.name, note: "", hex: t.masstone }));
  } }, el("option", {}, "+ another tube"), group("in this palette"), group("in my box"), group("others"));
}

function draw() {
  const w = wanted(), colours = scene().targets, i = colours.indexOf(w);
  const to = (sign, words, d) => button(sign, () => choose(colours[(i + d + colours.length) % colours.length].name), { className: "round", "aria-label": words });
  again(table,
    el("h2", { className: "named" }, el("span", { className: "disc" }, String(i + 1)), grow(w.name), to("‹", "the colour before", -1), to("›", "the next colour", 1)),
    choices("light", ["daylight", "lamplight"], lamp ? "lamplight" : "daylight", (n) => { lamp = n === "lamplight"; draw(); }),
    touching(w.hex, "wanted", (lamp ? look?.lamp : look)?.hex ?? w.hex, lamp ? "mixed, by lamplight" : "mixed"),
    !look ? p("No paint lies there.") : lamp ? p(b("By lamplight, against daylight: "), look.lamp.miss || "the same") : p(b(capital(look.judge)), miss(look)),
    el("div", { className: "mount bar" }, ...pile().map((x) => { const s = el("span", { className: "sw", fill: x.hex }); s.style.flexGrow = x.parts / total(); return s; })),
    rows(pile(), (x, k) => [square(x.hex), grow(capital(x.paint), noted(x), minded(x)),
      counter(x.note ? `${x.paint}, ${x.note}` : x.paint, count(x.parts), (d) => lay(`parts of ${x.paint}`, (next) => {
        next[k].parts = Math.max(0, x.parts + d * (x.parts < 1 || (x.parts === 1 && d < 0) ? 0.25 : 1));
      }))]),
    look && soft(look.order.split(":")[0].replace(/[^.]$/, "$&.")),
    acts(another(), button("the plan’s recipe again", () => act("the plan’s recipe again", (s) => { delete s.targets.find((t) => t.name === w.name).pile; }), { className: "link", disabled: !w.pile })));
  drawGot();
  if (!more.firstChild) aside();
}

function drawGot() {
  const w = wanted(), eye = how === "by eye";
  const on = (words, now, f) => button(words, f, { className: "choice", "aria-pressed": String(words === now) });
  again(got, h2("What I got"),
    choices("how it was seen", ["by eye", "photograph", "notation"], how, (n) => {
      [how, fault, answered] = [n, undefined, undefined];
      drawGot();
      if (n === "photograph") got.querySelector("input").click();
    }),
    eye && [soft("My pile, against the one wanted, is"),
      el("div", { className: "faults" }, ...faults.map((f) => on(f, fault, () => { fault = f; hear(); }))),
      el("div", { className: "choices" }, ...steps.map((s) => on(s, by, () => { by = s; if (fault) hear(); else drawGot(); })))],
    how === "photograph" && shot(),
    how === "notation" && el("form", { className: "acts", onsubmit: (e) => { e.preventDefault(); notation = e.target[0].value; hear(); } },
      el("input", { "aria-label": "what it looks like", placeholder: "5GY 4/4", value: notation, spellcheck: false }), el("button", {}, "That is it")),
    answered && told(w, eye),
    soft(said ?? (eye ? "A word is enough to mend a pile; a photograph beside a grey card, or a notation such as Munsell’s, also teaches the program your tubes." : "")),
    button("What my swatches taught", async () => record(await tried(() => getJSON("/taught"))), { className: "link" }));
}

async function hear() {
  said = undefined;
  answered = await asks("/got", { "by eye": { eye: { fault, by } }, notation: { seen: notation }, photograph: { photo: { id: spot, card: at?.[0], pile: at?.[1] } } }[how]);
  drawGot();
}

// shot is a photograph of the pile beside a grey card, and where they lie in it.
function shot() {
  const words = ["grey card", "my pile"];
  const move = (e, i) => {
    const d = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
    if (!d) return;
    e.preventDefault();
    at[i] = at[i].map((v, k) => Math.min(1, Math.max(0, v + d[k] / 50)));
    hear();
  };
  const touch = (e) => {
    if (e.target.tagName !== "IMG") return;
    const r = e.target.getBoundingClientRect(), here = [(e.clientX - r.left) / r.width, (e.clientY - r.top) / r.height];
    at = at?.length === 1 ? [at[0], here] : [here];
    answered = undefined;
    if (at.length === 2) hear(); else drawGot();
  };
  const bring = async (e) => {
    const id = e.target.files[0] && await upload(e.target.files[0]);
    if (id) [spot, at, answered] = [id, undefined, undefined];
    drawGot();
  };
  return [el("input", { type: "file", hidden: Boolean(spot), accept: "image/*,.heic,.heif", "aria-label": "a photograph of the pile beside a grey card", onchange: bring }),
    spot && el("div", { className: "shot", onclick: touch }, el("img", { src: `/photo/${spot}`, alt: "the pile beside a grey card" }),
      ...(at ?? []).map((place, i) => button(words[i], null, { className: "patch", place, onkeydown: (e) => at.length === 2 && move(e, i) }))),
    spot && !answered && p(b(`Touch the ${at ? "pile" : "grey card"}.`), at ? "" : button("or by keyboard", () => { at = [[0.3, 0.5], [0.7, 0.5]]; hear(); }, { className: "link" }))];
}

function told(w, eye) {
  const a = answered, added = (way, share) => { fault = answered = undefined; lay("added to the pile", (next) => way.add.forEach((x) => put(next, x.parts * share, x))); };
  return [touching(w.hex, "wanted", a.seen.hex, eye ? "as I say" : "my pile"),
    p(b(eye ? "As you say it: " : `${capital(a.seen.judge)}: `), eye ? `${by} ${fault}` : a.seen.miss || "as wanted"),
    a.afresh || !a.ways.length ? p(a.verdict) : a.ways.map((way, i) => el("div", { className: "added" },
      b(i ? "Or add, half of it first:" : "Add, half of it first:"),
      rows(way.add, (x) => [square(x.hex), b(count(x.parts)), grow(capital(x.paint), noted(x))]),
      p(`Then: ${way.judge}${miss(way)}. To ${count(total())} parts of pile.`),
      acts(button("I added half", () => added(way, 0.5)), button("I added it all", () => added(way, 1))))),
    a.afresh && a.fresh && p(b("A new pile: "), a.fresh),
    !eye && p(button("Remember it: teach my tubes", () => tell({ pile: laid(), ...(how === "notation" ? { seen: notation, by: "chip" } : { seen: a.seen.colour, by: "camera", noise: a.noise }) })))];
}

async function tell(body) {
  const doc = await tried(async () => (await postJSON("/teach", body)).json());
  if (!doc) return;
  ({ said } = doc);
  drawGot();
  record(doc);
  setBox((await getJSON("/box")).owned);
  answerAnew(answer().checked ?? []); // the tubes are others now
}

function record(doc) {
  if (doc) aside("What my swatches taught", doc.swatches.length ? [rows(doc.swatches, (s) => [square(s.hex), grow(s.recipe, small(s.odd ? "does not agree with the others, off" : "off", ` by ${s.off.toFixed(1)}`)), button("Take it back", () => tell({ forget: s.no }), { "aria-label": `Take back swatch ${s.no}` })]), doc.tubes.map((t) => soft(t))] : p("No swatch yet: a photograph or a notation of a pile is one."));
}

function aside(words, ...nodes) {
  again(more, acts(button("A string of values", string), button("Other ways", ways), button("Bases that lie ready", bases), button("Tints with white", tints)), words && h3(words), nodes, small(safety));
  if (words) more.lastChild.previousSibling.scrollIntoView({ block: "nearest" });
}

const run = (...c) => el("div", { className: "mount run" }, ...c);

async function string() {
  const s = await asks("/string", { steps: 7 });
  if (!s) return;
  const words = p("Touch a step for its recipe.");
  words.ariaLive = "polite";
  aside(`A string of ${wanted().name}`, run(...s.steps.map((r) => button("", () => { words.textContent = `${r.no}, value ${r.value}: ${r.words}${r.reached ? "" : " (it misses)"}.`; }, { fill: r.hex, "aria-label": `step ${r.no}, value ${r.value}` }))), words, soft(s.verdict, " ", s.note));
}

async function ways() {
  const m = await asks("/mix");
  if (m) aside("Other ways", rows(m.ways, (way) => [square(way.hex), grow(capital(way.words), small(way.judge, miss(way))), button("Lay it out", () => lay("another way", (next) => next.splice(0, 99, ...way.parts)))]));
}

async function bases() {
  const m = await ask("/bases", {}, "Looking for bases.");
  if (m) aside("Bases that lie ready", soft(m.bases.length ? `All mixes take ${m.with} tubes and piles in hand with these, ${m.without} without.` : "No base saves anything here."),
    m.bases.map((one, i) => [p(b(`Base ${i + 1}: ${one.words}`)), rows(one.uses, (u) => [grow(u.target, small(u.words))])]));
}

const tints = () => look && aside("Tints of the pile, volumes of white to one of it", run(...look.tints.map((t) => el("span", { className: "sw", fill: t.hex }))), soft(look.tints.map((t) => `${t.white} to 1: value ${t.value}`).join("; ")));
