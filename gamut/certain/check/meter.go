package check

import (
	"context"
	"errors"
	"math"
)

// Work is what a verification takes, counted by its operations and not by the
// clock, so that what is too much is so on every machine: about a nanosecond of a
// processor of 2020 each.
type Work int64

// What the parts of a verification count for, measured on the proofs of the demo
// and on rationals of 50 to 64 000 bits; those of a kind take that much or less.
const (
	perByte      Work = 20    // read
	perBox       Work = 25000 // of colours, to prove the faces
	perBoxFace   Work = 150   // held against a box
	perLimitTerm Work = 50    // in intervals
	perCutTerm   Work = 600   // the same
	perPaint     Work = 150   // that a form in intervals is looked at on
	perCut       Work = 6000  // made
	perSplit     Work = 1500
	perRational  Work = 600 // operation, and by the words of its operands:
	perWord      Work = 150
	perWords     Work = 2 // for each pair of them
)

// ErrWork is what a verification ends with that takes more than it may.
var ErrWork = errors.New("it takes more work than a proof may")

// meter counts work. The context is asked now and then.
type meter struct {
	ctx  context.Context
	most Work
	open int // cells that may be open at a time
	cuts int // that a cell may have
	done Work
	ask  Work // when the context is asked next
}

// free counts without a bound, for a certificate that is not a stranger's.
func free(ctx context.Context) *meter {
	return &meter{ctx: ctx, most: math.MaxInt64, open: math.MaxInt, cuts: math.MaxInt}
}

// bounded allows for several times the cells and cuts of the longest proofs that
// were searched here, which take little memory.
func bounded(ctx context.Context, most Work) *meter {
	return &meter{ctx: ctx, most: most, open: 1000, cuts: 4000}
}

const asks Work = 1_000_000

// halted ends a verification from within its arithmetic.
type halted struct{ err error }

// spend counts work that is about to be done, and ends the verification where it
// is too much or nobody waits for it any more.
func (m *meter) spend(w Work) {
	m.done += w
	if m.done > m.most {
		panic(halted{ErrWork})
	}
	if m.done >= m.ask {
		m.ask = m.done + asks
		if err := m.ctx.Err(); err != nil {
			panic(halted{err})
		}
	}
}

// halt turns the end of a verification by its meter into an error.
func halt(err *error) {
	switch r := recover().(type) {
	case nil:
	case halted:
		*err = r.err
	default:
		panic(r)
	}
}
