// What the last change of a limit did to the answer: worked out from the two.
import { answer, act, on } from "./store.js";
import { el } from "./dom.js";

let before; // the whole answer before the change
let now;

export function setUpChanged() {
  on("answer", () => {
    const next = answer();
    if (!next?.tubes) { if (!next) before = now = undefined; return; }
    if (next.stage === "answer") before = now && next.names.join("\n") === now.names.join("\n") ? now : undefined;
    now = next;
  });
}

// differs is what is lost, gained, and changed of price and tubes; undefined: nothing to tell.
function differs() {
  if (!before || !now) return undefined;
  const [old, fresh] = [before.tubes, now.tubes];
  const differ = (from, to) => now.targets.map((t, i) => ({ no: i + 1, name: t.name, miss: t.miss })).filter((t, i) => from.targets[i].within && !to.targets[i].within);
  return {
    words: now.caused,
    lost: differ(before, now),
    gained: differ(now, before),
    price: Math.round((now.price - before.price) * 100) / 100,
    gone: old.filter((t) => !fresh.some((o) => o.id === t.id)).map((t) => t.short),
    come: fresh.filter((t) => !old.some((o) => o.id === t.id)).map((t) => t.short),
    stay: fresh.filter((t) => old.some((o) => o.id === t.id)).map((t) => t.short),
  };
}

const listed = (names) => (names.length > 1 ? `${names.slice(0, -1).join(", ")} and ${names.at(-1)}` : names[0] ?? "");
const priced = (d) => (d.price === 0 ? "as before" : `${Math.abs(d.price).toFixed(2)} ${d.price < 0 ? "less" : "more"}`);

function tubes({ gone, come, stay }) {
  if (!gone.length && !come.length) return "the same";
  if (!stay.length) return "none stays";
  if (stay.length === 1) return `only ${stay[0]} stays`;
  return [come.length ? `${listed(come)} ${come.length > 1 ? "come" : "comes"}` : "", gone.length ? `${listed(gone)} ${gone.length > 1 ? "go" : "goes"}` : ""].filter(Boolean).join(", ");
}

// changed is that as a part of the column.
export function changed() {
  const d = differs();
  if (!d) return undefined;
  const some = (list) => (list.length ? list.slice(0, 3).map((c) => `${c.no} ${c.name}${c.miss ? `, ${c.miss}` : ""}`).join("; ") + (list.length > 3 ? ` and ${list.length - 3} more` : "") : "nothing");
  const row = (word, says) => el("div", { className: says === "nothing" ? "none" : "" }, el("dt", {}, word), el("dd", {}, says));
  const box = el("section", { className: "changed" }, el("h3", {}, `Changed by “${d.words}”`),
    el("dl", {}, row("lost", some(d.lost)), row("gained", some(d.gained)), row("price", priced(d)), row("tubes", tubes(d))));
  const loosen = now.loosen?.[0];
  if (loosen) box.append(el("button", { type: "button", className: "main", id: "loosen", onclick: () => act(loosen.act, (s) => { Object.assign(s.limits, loosen.limits); }) }, loosen.words));
  return box;
}

// changedBriefly is the same in one line; "" where nothing changed.
export function changedBriefly() {
  const d = differs();
  if (!d) return "";
  const one = (word, list) => (list.length ? `${word}: ${list[0].name}${list.length > 1 ? ` and ${list.length - 1} more` : ""}` : "");
  return [one("lost", d.lost), one("gained", d.gained), d.price ? priced(d) : ""].filter(Boolean).join(" · ") || "as many reached, at the same price";
}
