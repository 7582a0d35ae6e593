// Package parallel shares work among processors with the same result on any number.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Each calls f for 0..n-1 on all processors. The calls must not depend on each
// other; then neither does the result on the number of processors.
func Each(n int, f func(i int)) {
	EachOf(n, func() func(int) { return f })
}

// EachOf is Each with a function for every processor, begun in turn.
func EachOf(n int, begin func() func(i int)) {
	workers := min(n, runtime.GOMAXPROCS(0))
	if workers == 1 {
		f := begin()
		for i := range n {
			f(i)
		}
		return
	}
	var next atomic.Int64
	var all sync.WaitGroup
	for range workers {
		f := begin()
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	all.Wait()
}
