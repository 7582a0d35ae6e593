package reach

import (
	"encoding/binary"
	"math"
	"sync"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// remembering is an oracle that keeps what another said: asked again, that
// would say the same, so no answer depends on what is kept.
type remembering struct {
	Oracle
	kept []memory // per target
}

type memory struct {
	mu    sync.Mutex
	mixes map[string]gamut.Mix
}

// mostRemembered is how many mixes are kept for a target, about 300 bytes each;
// one more, and all are let go.
const mostRemembered = 2000

// NewOracle asks a mixer about some targets.
func NewOracle(mixer *gamut.Mixer, targets []colour.Lab) Oracle {
	return remember(&mixing{mixer, mixer.Table(targets), targets}, len(targets))
}

func remember(o Oracle, targets int) Oracle { return &remembering{o, make([]memory, targets)} }

func (r *remembering) Within(t int, palette set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool) {
	mix := r.recall(t, palette, tolerance, e)
	return mix, mix.DE <= tolerance
}

// Closest is within where nothing is near enough (see gamut.Mixer).
func (r *remembering) Closest(t int, palette set.Set, e gamut.Effort) gamut.Mix {
	return r.recall(t, palette, 0, e)
}

func (r *remembering) recall(t int, palette set.Set, tolerance float64, e gamut.Effort) gamut.Mix {
	key := make([]byte, 0, 9+8*len(palette))
	key = binary.LittleEndian.AppendUint64(append(key, byte(e)), math.Float64bits(tolerance))
	for _, word := range palette {
		key = binary.LittleEndian.AppendUint64(key, word)
	}
	k := &r.kept[t]
	k.mu.Lock()
	mix, ok := k.mixes[string(key)]
	k.mu.Unlock()
	if ok {
		return mix
	}
	mix, _ = r.Oracle.Within(t, palette, tolerance, e)
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.mixes == nil || len(k.mixes) >= mostRemembered {
		k.mixes = map[string]gamut.Mix{}
	}
	k.mixes[string(key)] = mix
	return mix
}
