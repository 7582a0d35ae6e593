//go:build !linux

package atomicfile

// claim gives a file a name that nobody has.
func claim(from, to string) error { return claimByLink(from, to) }

// claimFolder gives a folder a name that nobody has.
func claimFolder(from, to string) error { return claimByLook(from, to) }

// exchange gives two names to each other's files or folders.
func exchange(a, b string) error { return exchangeByRename(a, b) }
