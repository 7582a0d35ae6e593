package search

// swap exchanges each paint of the best mix for each other of a small palette and
// settles again. On the far side of grey from the target one paint in the place of
// another may be a little nearer, with no way downhill between them.
func (w *workspace) swap() {
	w.restore(&w.best)
	if w.aim.Along >= 0 || len(w.members) > farPairs {
		return
	}
	w.save(&w.from)
	for i := range w.from.list {
		for _, p := range w.members {
			w.list = append(w.list[:0], w.from.list...)
			if w.inSupport(p) {
				continue
			}
			w.list[i], w.amount = p, append(w.amount[:0], w.from.amount...)
			w.evaluate()
			w.settle()
			w.keepBetter(0)
		}
	}
}
