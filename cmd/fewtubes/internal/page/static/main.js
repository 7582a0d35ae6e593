// The page: what stands where, and what happens in which order.
import { load, onChange, change, state } from "./state.js";
import { setUpPhotos, drawPhotos } from "./photos.js";
import { setUpTargets, drawTargets } from "./targets.js";
import { setUpLimits, drawLimits } from "./limits.js";
import { setUpTubes, drawTubes } from "./tubes.js";
import { setUpAnswer, ask } from "./answer.js";
import { setUpFiles } from "./files.js";
import { setUpTable } from "./table.js";
import { setUpWeigh, drawHeld } from "./weigh.js";
import { byId } from "./dom.js";

function drawAll() {
  const title = byId("title");
  if (document.activeElement !== title) title.value = state().title;
  document.title = state().title ? `${state().title} · fewtubes` : "fewtubes";
  drawPhotos();
  drawTargets();
  drawLimits();
  drawTubes();
  drawHeld();
}

byId("title").addEventListener("change", (e) => change((s) => { s.title = e.target.value.trim(); }));
setUpPhotos();
setUpTargets();
setUpLimits();
setUpFiles();
setUpTable();
setUpAnswer();
setUpWeigh();
onChange(() => { drawAll(); ask(); });
await setUpTubes();
await load();
