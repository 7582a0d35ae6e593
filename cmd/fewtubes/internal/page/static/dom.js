// Small helpers for building elements without inline styles or markup strings.
export const byId = (id) => document.getElementById(id);

// el makes an element; text children stay text, whatever they hold.
export function el(tag, props = {}, ...children) {
  const node = document.createElement(tag);
  for (const [key, value] of Object.entries(props)) {
    if (value === undefined || value === null || value === false) continue;
    if (key === "fill") node.style.background = value;
    else if (key === "place") { node.style.left = `${value[0] * 100}%`; node.style.top = `${value[1] * 100}%`; }
    else if (key.startsWith("on")) node.addEventListener(key.slice(2), value);
    else if (key in node && key !== "list" && !key.startsWith("aria")) node[key] = value;
    else node.setAttribute(key, value === true ? "" : value);
  }
  node.append(...children.filter((c) => c !== null && c !== undefined));
  return node;
}

// colourIn paints the swatches of a part of the page that came from the server.
export function colourIn(root) {
  for (const node of root.querySelectorAll("[data-fill]")) node.style.background = node.dataset.fill;
}

let hush;
// say puts one line where a person sees it and a screen reader speaks it.
export function say(text) {
  byId("notice").textContent = text;
  clearTimeout(hush);
  if (text) hush = setTimeout(() => { byId("notice").textContent = ""; }, 12000);
}
