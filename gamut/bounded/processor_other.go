//go:build !unix

package bounded

import "time"

var begun = time.Now()

// processorTime is the time of day where the system does not tell.
func processorTime() time.Duration { return time.Since(begun) }
