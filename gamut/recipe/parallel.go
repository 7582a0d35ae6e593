package recipe

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// each calls f for 0..n-1 on all processors. The calls must not depend on each
// other; then neither does the result on the number of processors.
func each(n int, f func(i int)) {
	eachOf(n, func() func(int) { return f })
}

// eachOf is each with a function for every processor, begun in turn.
func eachOf(n int, begin func() func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		f := begin()
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				f(i)
			}
		})
	}
	all.Wait()
}
