package atomicfile

import (
	"errors"

	"golang.org/x/sys/unix"
)

// claim renames a file to a name that nobody has, in one step; older file
// systems cannot.
func claim(from, to string) error {
	return rename(from, to, unix.RENAME_NOREPLACE, claimByLink)
}

// claimFolder is claim for a folder.
func claimFolder(from, to string) error {
	return rename(from, to, unix.RENAME_NOREPLACE, claimByLook)
}

// exchange gives two names to each other's files or folders, in one step.
func exchange(a, b string) error { return rename(a, b, unix.RENAME_EXCHANGE, exchangeByRename) }

func rename(from, to string, how uint, otherwise func(from, to string) error) error {
	err := unix.Renameat2(unix.AT_FDCWD, from, unix.AT_FDCWD, to, how)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) {
		return otherwise(from, to)
	}
	return err
}
