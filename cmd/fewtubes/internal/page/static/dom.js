// Small helpers for building elements without inline styles or markup strings.
export const byId = (id) => document.getElementById(id);

// fill colours a swatch #rrggbb. One that is near the grey of its mount would
// vanish on it: it gets an edge from the style sheet.
function fill(node, hex) {
  node.style.background = hex;
  const channels = hex.match(/[0-9a-f]{2}/gi)?.map((c) => parseInt(c, 16));
  if (channels?.every((c) => Math.abs(c - 0x77) <= 20)) node.dataset.near = "";
}

// el makes an element; text children stay text, whatever they hold.
export function el(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (key === "fill") fill(node, value);
    else if (key === "place") { node.style.left = `${value[0] * 100}%`; node.style.top = `${value[1] * 100}%`; }
    else if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key in node && key !== "list" && !key.startsWith("aria")) node[key] = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.filter((c) => c !== null && c !== undefined));
  return node;
}

// place puts a report from the server into the page: its swatches coloured, its
// headings one step below those of the page around it.
export function place(root, html) {
  const parsed = new DOMParser().parseFromString(html, "text/html");
  let above = 2; // no step of the headings is left out
  for (const node of parsed.body.querySelectorAll("h1,h2,h3")) {
    above = Math.min(Number(node.tagName[1]) + 1, above + 1);
    const lower = el(`h${above}`, { className: node.tagName.toLowerCase() });
    lower.append(...node.childNodes);
    node.replaceWith(lower);
  }
  for (const node of parsed.body.querySelectorAll("header,footer")) {
    const plain = el("div", { className: node.tagName.toLowerCase() });
    plain.append(...node.childNodes);
    node.replaceWith(plain);
  }
  root.replaceChildren(...parsed.body.childNodes);
  for (const node of root.querySelectorAll("[data-fill]")) node.style.background = node.dataset.fill;
  // A table wider than its place is scrolled by keyboard too.
  for (const node of root.querySelectorAll(".scroll")) {
    node.tabIndex = 0;
    node.setAttribute("role", "group");
    node.setAttribute("aria-label", "table");
  }
}

let hush;
// say puts one line where a person sees it and a screen reader speaks it, for a
// while or until the next.
export function say(text, stays = false) {
  byId("notice").textContent = text;
  clearTimeout(hush);
  if (text && !stays) hush = setTimeout(() => { byId("notice").textContent = ""; }, 12000);
}

// wrong says beside a form what is the matter with it, until it is changed.
export function wrong(form, text) {
  let line = form.querySelector(".wrong");
  if (!text) { line?.remove(); return; }
  if (!line) form.append(line = el("p", { className: "wrong", role: "alert" }));
  form.addEventListener("input", () => line.remove(), { once: true });
  line.textContent = text;
}
