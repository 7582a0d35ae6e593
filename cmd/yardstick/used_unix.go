//go:build unix

package main

import (
	"fmt"
	"os"
	"runtime"
	"syscall"
	"time"
)

// used is the processor time of this process so far, user and system.
func used() time.Duration { return usedBy(syscall.RUSAGE_SELF) }

// usedByChildren is that of the processes it started and waited for.
func usedByChildren() time.Duration { return usedBy(syscall.RUSAGE_CHILDREN) }

func usedBy(who int) time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(who, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// mostMemory is the largest a process was.
func mostMemory(state *os.ProcessState) string {
	usage, ok := state.SysUsage().(*syscall.Rusage)
	if !ok {
		return "?"
	}
	unit := 1 << 10
	if runtime.GOOS == "darwin" { // counts bytes
		unit = 1
	}
	return fmt.Sprintf("%d MB", int(usage.Maxrss)*unit>>20)
}
