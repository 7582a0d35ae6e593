package page

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
)

// wrongTypes puts scenes into the address of the page, one after the other: some
// that are no scene at all, and a sound one with every part of it, in turn,
// replaced by something of another kind. It gives how many there were, and 0 where
// the sound one would not be kept whole.
const wrongTypes = `(async () => {
	const sound = {title: "marsh", tolerance: 3, light: "D65",
		limits: {maxTubes: 3, budget: 90, avoid: ["lead"], keep: ["titanium-white"], never: ["zinc-white"], only: ["titanium-white", "ivory-black", "yellow-ochre"],
			own: ["yellow-ochre"], atMostOne: [["zinc-white", "lead-white"]], paintsPerMix: 3, prefer: "price"},
		air: {range: "20 km", airlight: "lab(78 -2 -6)", exponent: 1, hue: "seen", planes: {foreground: "0 km", middle: "1 km", distance: "6 km"}},
		photos: [{name: "p", file: "a/p.jpg", id: "0123456789abcdef", targets: 3, planes: ["sky=0:0.3"], distances: {middle: "2 km"}, crop: [0, 0.1, 1, 1], values: {From: [1, 50, 99], To: [23, 50, 97]}}],
		targets: [{name: "mud", colour: "lab(50 0 0)", hex: "#777777", words: "mid grey", value: "5.0", plane: "foreground", area: 1, tolerance: 4, seen: "1 km", at: {photo: "p", x: 0.5, y: 0.5, radius: 0.01}, picked: true}],
		held: [{name: "one", tubes: ["titanium-white", "ivory-black"]}, {name: "two", tubes: ["yellow-ochre"]}]};
	const kinds = [null, true, 7, "x", [], {}, [null], [[]], [{}], {x: {}}];
	const scenes = [...kinds];
	const vary = (node) => {
		for (const key of Object.keys(node)) {
			const was = node[key];
			node[key] = kinds[scenes.length % kinds.length];
			scenes.push(structuredClone(sound));
			node[key] = was;
			if (typeof was === "object") vary(was);
		}
	};
	vary(sound);
	for (const scene of scenes) {
		const bytes = await new Response(new Blob([JSON.stringify(scene)]).stream().pipeThrough(new CompressionStream("deflate-raw"))).arrayBuffer();
		const address = "#s=" + btoa(String.fromCharCode(...new Uint8Array(bytes))).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
		const arrived = new Promise((done) => addEventListener("hashchange", () => setTimeout(done, 5), { once: true }));
		location.hash = address;
		await arrived;
	}
	const { kept, whole } = (await import("/shape.js")).shaped(sound);
	return whole && JSON.stringify(kept) === JSON.stringify(sound) ? scenes.length : 0;
})()`

// Whatever stands in the address of the page, its scripts go on: what is not of
// the right kind is left out, and that is said.
func TestAddressOfWrongTypes(t *testing.T) {
	b := browser(t)
	if n := value[float64](b, wrongTypes); n < 60 {
		t.Errorf("%v scenes", n)
	}
	b.quiet(refused, "status of 404", "status of 422")
	b.want(`document.getElementById("notice").textContent.includes("left out")`)
	b.goTo(fmt.Sprintf("%s/#s=%s", b.url, "AAAA"))
	b.do(chromedp.Reload())
	b.until(`document.getElementById("notice").textContent.includes("cannot be read")`)
	b.typeColours("lab(50 0 0)")
	b.until(answered)
	b.quiet(refused, "status of 404", "status of 422")
}
