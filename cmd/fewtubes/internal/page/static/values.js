// Values: the values board with recession, air and fit.
import { el } from "./dom.js";

export function setUp(root) {
  root.append(el("h2", {}, "Values"), el("p", { className: "soft" }, "Here come the picture in a few values, how far its planes stand off, and its fit to your palette."));
}

export function show() {}
