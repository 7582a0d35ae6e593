// Everything else: the places that have no word of their own at the foot.
import { el } from "./dom.js";

export function setUp(root) {
  const ways = [["beside", "Beside", "palettes next to one another"], ["why", "Why these", "and how sure that is"], ["values", "Values", "the picture in a few values"],
    ["pack", "Pack", "how much of each tube"], ["print", "Print", "for the lid of the box"], ["box", "My box", "the tubes you have"], ["scenes", "Scenes", "open, copy, remove"], ["help", "Help", ""]];
  root.append(el("h2", {}, "More"), el("ul", { className: "ways" }, ...ways.map(([to, words, says]) => el("li", {}, el("a", { href: `#${to}` }, el("b", {}, words), el("span", { className: "soft" }, says))))));
}

export function show() {}
