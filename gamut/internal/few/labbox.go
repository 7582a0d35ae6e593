package few

// lab32 is a colour of CIELAB, for looking whether it is worth to look closer.
type lab32 [3]float32

// labBox is a range of L*, a* and b*.
type labBox struct{ low, high lab32 }

// emptyBox holds nothing until something is put in.
func emptyBox() labBox {
	const far = 1e9
	return labBox{lab32{far, far, far}, lab32{-far, -far, -far}}
}

func (b *labBox) put(p lab32) {
	for k, v := range p {
		if v < b.low[k] {
			b.low[k] = v
		}
		if v > b.high[k] {
			b.high[k] = v
		}
	}
}

func (b *labBox) widen(by lab32) {
	for k, v := range by {
		b.low[k] -= v
		b.high[k] += v
	}
}

func (b *labBox) meets(c *labBox) bool {
	for k := range b.low {
		if b.low[k] > c.high[k] || c.low[k] > b.high[k] {
			return false
		}
	}
	return true
}

// beyond tells on which sides of the box a colour lies, a bit for each.
func (b *labBox) beyond(p *lab32) (sides uint8) {
	for k, v := range p {
		if v < b.low[k] {
			sides |= 1 << (2 * k)
		}
		if v > b.high[k] {
			sides |= 2 << (2 * k)
		}
	}
	return sides
}

// holds reports whether a box lies within this one.
func (b *labBox) holds(c *labBox) bool {
	for k := range b.low {
		if c.low[k] < b.low[k] || c.high[k] > b.high[k] {
			return false
		}
	}
	return true
}
