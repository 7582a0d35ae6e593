package atomicfile

import (
	"errors"

	"golang.org/x/sys/unix"
)

// claim renames a file to a name that nobody has, in one step; older file
// systems cannot.
func claim(from, to string) error {
	err := unix.Renameat2(unix.AT_FDCWD, from, unix.AT_FDCWD, to, unix.RENAME_NOREPLACE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) {
		return claimByLink(from, to)
	}
	return err
}
