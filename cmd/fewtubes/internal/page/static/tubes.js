// The catalogue: every tube as the program lists it, asked for once.
import { getJSON } from "./server.js";
import { setBox } from "./store.js";

let asked;
let all = [];

// catalogue is {tubes, classes, safety}.
export function catalogue() {
  asked ??= getJSON("/tubes").then((got) => { all = got.tubes; return got; }, (err) => { asked = undefined; throw err; });
  return asked;
}

// tube is one of them, once the catalogue has come.
export const tube = (id) => all.find((t) => t.id === id);

// loadBox finds what is in the painter's box.
export const loadBox = () => getJSON("/box").then(({ owned }) => setBox(owned));
