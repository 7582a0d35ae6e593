package page

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
)

// window is one the page stands in.
type window struct {
	w, h int64
	free bool // the page scrolls
}

// windows are those the page must hold in: those of laptops, tablets and phones, with
// what browsers leave of them, and one of a desk at 200 %, where the frame lets go.
var windows = []window{{1440, 900, false}, {1440, 765, false}, {1366, 640, false}, {1024, 768, false}, {768, 1024, false}, {390, 844, false}, {390, 664, false}, {720, 450, true}}

// measuring gives the page functions that complain: whole(selectors) of what is not
// wholly in the window and in what clips it, apart() of what lies over another.
const measuring = `
window.visible = (e) => e.checkVisibility({visibilityProperty: true}) && e.getBoundingClientRect().right > 0 && e.getBoundingClientRect().width > 1;
window.named = (e) => e.id || e.className + " " + (e.textContent || e.ariaLabel || "").trim().slice(0, 30);
window.whole = (...selectors) => selectors.flatMap((s) => {
	const all = [...document.querySelectorAll(s)].filter(visible);
	if (!all.length) return [s + " is not there"];
	return all.flatMap((e) => {
		const r = e.getBoundingClientRect(), out = [];
		if (r.left < -0.5 || r.top < -0.5 || r.right > innerWidth + 0.5 || r.bottom > innerHeight + 0.5) out.push(named(e) + " leaves the window: " + [r.left, r.top, r.right, r.bottom].map(Math.round));
		for (let box = e.parentElement; box; box = box.parentElement) {
			const c = box.getBoundingClientRect();
			if (getComputedStyle(box).overflowY !== "visible" && box !== document.documentElement && (r.bottom > c.bottom + 0.5 || r.top < c.top - 0.5 || r.right > c.right + 0.5)) out.push(named(e) + " is cut by " + named(box) + ": " + [r.top, r.bottom, c.top, c.bottom].map(Math.round));
		}
		return out;
	});
});
// What may be shortened by dots, or lies on the picture, or scrolls in its row.
const spared = "#title, #undo, #undo *, #more-limits, #colour-name, .mark, #edge, #lens, #lens *, .mark *, option";
window.apart = () => {
	const leaves = [...document.querySelectorAll("#head *, #under *, #rail *, #answer *, #limits *, #bar *")].filter((e) => visible(e) && !e.matches(spared)
		&& (e.matches("button, a, input, select, .sw, output") || [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim())));
	const out = [];
	const boxes = leaves.map((e) => {
		let r = e.getBoundingClientRect();
		r = {l: r.left, t: r.top, r: r.right, b: r.bottom};
		for (let box = e.parentElement; box; box = box.parentElement) if (getComputedStyle(box).overflowX !== "visible") {
			const c = box.getBoundingClientRect();
			r = {l: Math.max(r.l, c.left), t: Math.max(r.t, c.top), r: Math.min(r.r, c.right), b: Math.min(r.b, c.bottom)};
		}
		if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).display !== "inline" && !e.closest("#chips, #photos, .said")) out.push(named(e) + " is wider than its box: " + e.scrollWidth + " of " + e.clientWidth);
		return r;
	});
	for (let i = 0; i < leaves.length; i++) for (let j = i + 1; j < leaves.length; j++) {
		const [a, b] = [boxes[i], boxes[j]];
		if (leaves[i].contains(leaves[j]) || leaves[j].contains(leaves[i])) continue;
		if (getComputedStyle(document.getElementById("bar")).position === "sticky" && (leaves[i].closest("#bar") === null) !== (leaves[j].closest("#bar") === null)) continue; // the page scrolls under it
		const [w, h] = [Math.min(a.r, b.r) - Math.max(a.l, b.l), Math.min(a.b, b.b) - Math.max(a.t, b.t)];
		if (w > 1.5 && h > 1.5 && !leaves[i].closest(".touching, .acts") && !leaves[j].closest(".touching, .acts")) out.push(named(leaves[i]) + " lies over " + named(leaves[j]));
	}
	return out;
};
// Targets to touch are 44 by 44, or as large with what is round them (WCAG 2.2, 2.5.8, asks 24; 2.5.5 asks 44).
window.small = () => [...document.querySelectorAll("button, a, select, input")].filter((e) => visible(e) && !e.matches(".mark, .skip"))
	.flatMap((e) => { const r = e.getBoundingClientRect(); return r.width < 43.5 || r.height < 43.5 ? [named(e) + ": " + Math.round(r.width) + " by " + Math.round(r.height)] : []; });
undefined`

// complains fails for what a script of measuring tells.
func (b *tab) complains(state, script string) {
	b.t.Helper()
	for _, text := range value[[]string](b, script) {
		b.t.Errorf("%s: %s", state, text)
	}
}

// At every size the answer stands beside the limit that is being changed, with what
// the change did; the recipe of every colour is whole, with its two buttons; nothing
// is cut, nothing lies over another, and what is touched is large enough.
func TestFrameHolds(t *testing.T) {
	t.Parallel()
	b := browser(t)
	b.marsh()
	b.until(learned)
	b.do(chromedp.Evaluate[chromedp.Void](measuring))
	each := func(state string, look func(at string, w window)) {
		t.Helper()
		for _, w := range windows {
			b.do(chromedp.EmulateViewport(w.w, w.h))
			at := fmt.Sprintf("%s %dx%d", state, w.w, w.h)
			look(at, w)
			b.shot(fmt.Sprintf("%s-%dx%d", state, w.w, w.h))
			if over := value[int](b, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				t.Errorf("%s: %d px wider than the window", at, over)
			}
			if !w.free && !b.eval(`document.documentElement.scrollHeight <= innerHeight`) {
				t.Errorf("%s: the page scrolls", at)
			}
			b.complains(at, `apart()`)
			b.complains(at, `small()`)
		}
	}
	each("scene", func(at string, w window) {
		wide := `whole(".headline", ".palette .sw", ".palette .name", ".hardest h3", ".hardest li:first-child button", "#most-tubes button", "#only-box")`
		switch {
		case w.free:
		case w.w >= 1300:
			b.complains(at, wide)
		default:
			b.complains(at, `whole("#bar .count", "#bar .strip .sw", ".hardest h3", ".hardest button", "#parts a, #parts button")`)
		}
	})
	each("chosen", func(at string, w window) {
		b.complains(at, fmt.Sprintf(`[...document.querySelectorAll(".chip")].flatMap((c) => {
			if (c.getAttribute("aria-pressed") !== "true") c.click();
			const name = c.dataset.chip;
			const out = apart();
			if (!%t) out.push(...whole("#colour-name", ".touching .sw", ".recipe-rows .sw", ".recipe-rows b", ".recipe-rows span:last-child", "#to-mixing", "#what-i-got"));
			const acts = document.querySelector(".colour .acts").getBoundingClientRect(), last = document.querySelector(".recipe-rows li:last-child span:last-child").getBoundingClientRect();
			if (last.bottom > acts.top + 1 && last.right > acts.left && last.left < acts.right && innerWidth !== 768) out.push("the recipe lies under its buttons by " + Math.round(last.bottom - acts.top));
			return out.map((o) => name + ": " + o);
		})`, w.free))
	})
	b.do(chromedp.EmulateViewport(1440, 900), chromedp.Evaluate[chromedp.Void](`document.querySelector(".chip[aria-pressed=true]").click()`),
		chromedp.Click("#most-tubes button"))
	b.until(learned + ` && document.getElementById("loosen") !== null`)
	b.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("[data-part=limits]").click()`))
	each("changed", func(at string, w window) {
		switch {
		case w.free:
			b.complains(at, `whole("#bar .count", "#parts a, #parts button")`)
		case w.w >= 1300:
			b.complains(at, `whole(".headline", ".palette .sw", ".changed h3", ".changed dd", "#loosen", "#most-tubes button", "#spend button", ".toggle")`)
		case w.w >= 700:
			b.complains(at, `whole(".headline", ".changed h3", ".changed dd", "#loosen", "#bar .count", "#most-tubes button", "#spend button", ".toggle")`)
		default:
			b.complains(at, `whole("#bar .count", "#bar .strip .sw", "#bar .said", "#most-tubes button", "#spend button", ".toggle", ".headline")`)
		}
	})
	b.quiet()
}
