// What a scene in an address must look like. An address is typed, cut and pasted:
// what is not of the right kind is left out before anything is drawn.
const text = (v) => (typeof v === "string" ? v : undefined);
const hex = (v) => (/^#[0-9a-f]{6}$/i.test(text(v) ?? "") ? v : undefined);
const truth = (v) => (typeof v === "boolean" ? v : undefined);
const number = (v) => (Number.isFinite(v) ? v : undefined);
const whole = (v) => (Number.isInteger(v) ? v : undefined);
const list = (of) => (v) => (Array.isArray(v) ? v.map(of).filter((x) => x !== undefined) : undefined);
const names = list(text);

// record keeps the fields it knows, and nothing where one of the needed is not there.
const record = (fields, ...needed) => (v) => {
  if (typeof v !== "object" || v === null || Array.isArray(v)) return undefined;
  const all = Object.entries(fields).map(([key, of]) => [key, of(v[key])]);
  const kept = Object.fromEntries(all.filter(([, x]) => x !== undefined));
  return needed.every((key) => key in kept) ? kept : undefined;
};

const limits = record({
  maxTubes: whole, budget: number, avoid: names, keep: names, never: names, only: names, own: names,
  atMostOne: list(names), paintsPerMix: whole, byHand: truth, prefer: text,
});
const curve = record({ From: list(number), To: list(number) }, "From", "To");
const distances = record({ foreground: text, middle: text, distance: text });
const air = record({ range: text, airlight: text, exponent: number, hue: text, planes: distances });
const photo = record({
  name: text, file: text, id: text, targets: whole, planes: names, distances, crop: list(number), values: curve,
}, "name", "file");
const spot = record({ photo: text, x: number, y: number, radius: number }, "photo", "x", "y", "radius");
const target = record({
  name: text, colour: text, hex, words: text, value: text, plane: text, area: number, tolerance: number, seen: text, at: spot, picked: truth,
}, "name", "colour");
const held = record({ name: text, tubes: names }, "name", "tubes");
const scene = record({
  title: text, tolerance: number, light: text, surface: text, savedPalette: names, limits, air, photos: list(photo), targets: list(target), held: list(held),
});

const leaves = (v) => (typeof v === "object" && v !== null ? Object.values(v).reduce((n, x) => n + leaves(x), 0) : 1);

// shaped gives the scene a value holds, and whether all of it could be kept.
export function shaped(value) {
  const kept = scene(value) ?? {};
  return { kept, whole: leaves(kept) === leaves(value) };
}
