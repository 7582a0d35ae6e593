// Help: what can be done here, in a few lines.
import { el } from "./dom.js";

const says = [
  ["Pick", "Touch the picture for a colour, drag for an area; on a phone slide and lift, or rest the finger and then drag. The wheel, two fingers, + and − change how much is averaged. Marks are dragged; Delete removes one."],
  ["By keys", "Tab goes from part to part. On the picture arrows move, Shift moves farther, Enter picks; in the row of colours arrows go from one to the next. g shows greys, Escape lets go of a colour, Ctrl+Z takes back."],
  ["Read", "Each colour stands over its nearest mix. A dashed edge and “out” mean that these tubes do not reach it; the words say what is wrong and by how much."],
  ["How sure", "Of the plausible boxes, tubes as other makers may fill them, so many still reach all that is reached here. Paint a swatch before you trust a recipe."],
  ["Mind", "Hazards stand in bold under a tube. The label, the safety data sheet and local rules come first. Do not sand, spray or heat paint."],
];

export function setUp(root) {
  root.append(el("h2", {}, "Help"), el("dl", { className: "help" }, ...says.map(([word, text]) => el("div", {}, el("dt", {}, word), el("dd", {}, text)))));
}

export function show() {}
