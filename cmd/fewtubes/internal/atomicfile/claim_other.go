//go:build !linux

package atomicfile

// claim gives a file a name that nobody has.
func claim(from, to string) error { return claimByLink(from, to) }
