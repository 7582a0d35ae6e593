//go:build !unix

package main

import (
	"os"
	"time"
)

var begun = time.Now()

// used is the time that has passed, where the system does not tell what was used.
func used() time.Duration { return time.Since(begun) }

func usedByChildren() time.Duration { return 0 }

func mostMemory(*os.ProcessState) string { return "?" }
