package proofs

import (
	"bytes"
	"context"
	"iter"
	"runtime"

	"fewtubes/gamut/certain/check"
)

// What a file or a folder may hold and take.
const (
	// MostBytes is the largest file of certificates, or folder, that is read.
	MostBytes = 64 << 20

	// MostWork is what certificates may take together, some seconds of one processor:
	// more than twice those of the demo, which are among the longest.
	MostWork check.Work = 8e9
)

// Checked is what became of one certificate, to be read when it is done.
type Checked struct {
	Text []byte
	check.Claim
	Work check.Work
	Err  error
	done chan struct{}
}

// Wait waits until the certificate is verified, or nobody waits for it any more.
func (v *Checked) Wait(ctx context.Context) error {
	select {
	case <-v.done:
	case <-ctx.Done(): // whatever a worker is busy with
	}
	return ctx.Err()
}

// mostAtATime certificates are verified: each holds some megabytes.
const mostAtATime = 4

// Check verifies certificates side by side, a few ahead of the one that is asked
// for. None works longer than what is left for it; Err is then check.ErrWork.
func Check(ctx context.Context, next func() (text []byte, ok bool)) iter.Seq2[int, *Checked] {
	return func(yield func(int, *Checked) bool) {
		var ahead []*Checked
		left, more := MostWork, true
		for i := 0; ; i++ {
			for more && len(ahead) < min(mostAtATime, runtime.GOMAXPROCS(0)) {
				v := &Checked{done: make(chan struct{})}
				if v.Text, more = next(); !more {
					break
				}
				ahead = append(ahead, v)
				go v.verify(ctx, left)
			}
			if len(ahead) == 0 {
				return
			}
			first := ahead[0]
			if first.Wait(ctx) == nil {
				if left -= first.Work; left < 0 {
					first.Err = check.ErrWork
				}
			}
			if !yield(i, first) {
				return
			}
			ahead = ahead[1:]
		}
	}
}

func (v *Checked) verify(ctx context.Context, most check.Work) {
	defer close(v.done)
	v.Claim, v.Work, v.Err = verifyText(ctx, v.Text, most)
}

// verifyText verifies one certificate; tests remember what it says of a text.
var verifyText = func(ctx context.Context, text []byte, most check.Work) (check.Claim, check.Work, error) {
	return check.Verify(ctx, bytes.NewReader(text), most)
}
