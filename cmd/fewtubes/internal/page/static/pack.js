// Pack: how much of each tube a picture takes.
import { el } from "./dom.js";

export function setUp(root) {
  root.append(el("h2", {}, "Pack"), el("p", { className: "soft" }, "Here comes how much of each tube the picture takes."));
}

export function show() {}
