// What the painter allows.
import { state, change } from "./state.js";
import { byId, el } from "./dom.js";

export function setUpLimits() {
  const form = byId("limit-form");
  form.addEventListener("submit", (e) => e.preventDefault());
  form.addEventListener("change", (e) => {
    const { name, value, checked } = e.target;
    change((s) => {
      const number = value === "" ? undefined : Number(value);
      if (name === "avoid") {
        const rest = (s.limits.avoid ?? []).filter((c) => c !== value);
        s.limits.avoid = checked ? [...rest, value].sort() : rest;
      } else if (name === "tolerance") s.tolerance = number || 3;
      else if (name === "light") s.light = value;
      else if (name === "surface") s.surface = value || undefined;
      else if (name === "byHand") s.limits.byHand = checked || undefined;
      else if (name === "prefer") s.limits.prefer = value || undefined;
      else s.limits[name] = number;
    });
  });
}

export function setClasses(classes) {
  byId("avoid").append(...classes.map((c) => el("label", {}, el("input", { type: "checkbox", name: "avoid", value: c }), ` ${c}`)));
}

export function drawLimits() {
  const { limits, tolerance, light, surface } = state();
  const fields = byId("limit-form").elements;
  const put = (name, value) => { if (document.activeElement !== fields[name]) fields[name].value = value ?? ""; };
  put("maxTubes", limits.maxTubes);
  put("budget", limits.budget);
  put("paintsPerMix", limits.paintsPerMix);
  fields.byHand.checked = limits.byHand ?? false;
  put("tolerance", tolerance);
  put("light", light);
  put("surface", surface === "dry" ? "" : surface);
  put("prefer", limits.prefer === "usual" ? "" : limits.prefer);
  for (const box of byId("avoid").querySelectorAll("input")) box.checked = (limits.avoid ?? []).includes(box.value);
}
