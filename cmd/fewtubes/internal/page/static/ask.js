// The question: asked anew whenever the scene changes in what an answer depends
// on. The old answer stands meanwhile, marked as old after a moment.
import { scene, answer, asked, boxed, setAnswer, did, on } from "./store.js";
import { say } from "./dom.js";
import { postJSON, events, inLine } from "./server.js";

const [markAfter, sayAfter] = [150, 300]; // ms
let running;
let key = "";
let box = ""; // the one asked of
let words = ""; // what is being done, "" when nothing is
const watchers = [];

// working is what the program is at, in words; "" when the answer is whole.
export const working = () => words;
export const onWorking = (f) => watchers.push(f);

export function setUpAsking() {
  on("scene", () => ask());
  on("box", () => ask());
}

function state(stage, text) {
  if (stage) document.body.dataset.working = stage;
  else delete document.body.dataset.working;
  words = text;
  watchers.forEach((f) => f());
}

// ask puts the scene to the program unless nothing that matters has changed. With
// a palette it asks what that reaches; with an empty one it goes back to choosing.
export async function ask(palette) {
  const question = asked();
  const { title, ...rest } = question; // a title changes no answer
  const now = JSON.stringify([{ ...rest, targets: rest.targets.map(({ name, ...of }) => of) }, boxed()]);
  if (now === key && !palette) { relabel(); return; }
  key = now;
  palette ??= [];
  running?.abort();
  document.body.dataset.asking = document.body.dataset.old = "";
  if (question.targets.length === 0) {
    delete document.body.dataset.asking;
    delete document.body.dataset.old;
    state("", "");
    setAnswer(null);
    return;
  }
  running = new AbortController();
  const { signal } = running;
  const caused = box !== String(boxed()) ? "my box" : did();
  box = String(boxed());
  let progress = "Working it out";
  const marks = [
    setTimeout(() => state("old", ""), markAfter),
    setTimeout(() => state("said", progress), sayAfter),
  ];
  const done = () => { delete document.body.dataset.old; marks.forEach(clearTimeout); state("", ""); };
  const tell = (text) => { progress = text; if (document.body.dataset.working === "said") state("said", text); };
  try {
    await events(await postJSON("/answer", { scene: question, palette }, signal), (kind, data) => {
      if (signal.aborted) return;
      if (kind === "progress") tell(looking(data));
      else if (kind === "queue") tell(inLine(data.before));
      else if (kind === "turn") tell("Working it out");
      else if (kind === "stopped") { key = ""; done(); say(data, true); }
      else if (kind === "trouble") { done(); setAnswer({ trouble: data }); }
      else if (kind === "answer") { done(); setAnswer({ ...data, stage: kind, names: scene().targets.map((t) => t.name), checked: palette, caused }); }
      else setAnswer({ ...answer(), ...data, stage: kind });
    });
  } catch (err) {
    if (signal.aborted) return;
    key = "";
    done();
    say(err.message, true);
  } finally {
    marks.forEach(clearTimeout);
    if (!signal.aborted) delete document.body.dataset.asking;
  }
}

// relabel gives the colours of an answer the names they have now.
function relabel() {
  const a = answer();
  const names = scene().targets.map((t) => t.name);
  if (!a?.targets || words || a.targets.length !== names.length || names.every((n, i) => n === a.targets[i].name)) return;
  setAnswer({ ...a, names, targets: a.targets.map((t, i) => ({ ...t, name: names[i] })) });
}

const counts = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
export const spelled = (n) => counts[n] ?? String(n);

function looking({ atLeast, atMost }) {
  if (!atLeast) return "Working it out";
  return `Looking for ${spelled(atLeast)} tube${atLeast === 1 ? "" : "s"}${atMost && atMost > atLeast ? `, ${spelled(atMost)} found` : ""}`;
}
