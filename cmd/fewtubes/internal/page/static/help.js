// Help: what the page does, in a few lines.
import { el } from "./dom.js";

export function setUp(root) {
  root.append(el("h2", {}, "Help"));
}

export function show() {}
