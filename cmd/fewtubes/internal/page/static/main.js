// The page: what stands where, and what happens in which order.
import { load, onChange, change, state } from "./state.js";
import { setUpPhotos, drawPhotos } from "./photos.js";
import { setUpTargets, drawTargets } from "./targets.js";
import { setUpLimits, drawLimits } from "./limits.js";
import { setUpTubes, drawTubes } from "./tubes.js";
import { setUpAnswer, ask } from "./answer.js";
import { setUpFiles } from "./files.js";
import { setUpTable } from "./table.js";
import { setUpWeigh } from "./weigh.js";
import { drawHeld } from "./held.js";
import { byId } from "./dom.js";

const drawn = new Map();

// upon draws a part anew when what it shows has changed: a changed limit should
// not wait for eighty swatches.
function upon(draw, ...shown) {
  const now = JSON.stringify(shown);
  if (drawn.get(draw) === now) return;
  drawn.set(draw, now);
  draw();
}

function drawAll() {
  const { title, photos, targets, tolerance, limits, held } = state();
  const field = byId("title");
  if (document.activeElement !== field) field.value = title;
  document.title = title ? `${title} · fewtubes` : "fewtubes";
  drawLimits();
  upon(drawPhotos, photos, targets);
  upon(drawTargets, targets, tolerance);
  upon(drawTubes, limits.own, limits.keep, limits.never);
  upon(drawHeld, held);
}

byId("title").addEventListener("change", (e) => change((s) => { s.title = e.target.value.trim(); }));
setUpPhotos();
setUpTargets();
setUpLimits();
setUpFiles();
setUpTable();
setUpAnswer();
setUpWeigh();
onChange(() => { ask(); drawAll(); }); // the question is on its way while the page is drawn
await setUpTubes();
await load();
