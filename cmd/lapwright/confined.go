package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"time"
)

// A program that runs this one for somebody else confines it by the environment.
const (
	// onlyHere: no file is read but those in the folder in which it runs.
	onlyHere = "LAPWRIGHT_ONLY_HERE"
	// memoryLimit: so many MB of memory, and no more.
	memoryLimit = "LAPWRIGHT_MEMORY"
	// timeLimit: so many seconds, and no more. Whoever runs the program asks it for the best
	// so far before; this ends it where nobody is left to ask.
	timeLimit = "LAPWRIGHT_SECONDS"
)

// mayRead tells whether a file of that name may be read.
func mayRead(path string) bool { return os.Getenv(onlyHere) == "" || filepath.IsLocal(path) }

// openFile opens a file that may be read; where only those of the folder may be, a link
// that leads out of it is not followed.
func openFile(path string) (*os.File, error) {
	if os.Getenv(onlyHere) == "" {
		return os.Open(path)
	}
	return os.OpenInRoot(".", path)
}

// confine ends the program, with a sentence, when it takes more time or memory than it may.
func confine() {
	if seconds, err := strconv.ParseFloat(os.Getenv(timeLimit), 64); err == nil && seconds > 0 {
		time.AfterFunc(time.Duration(seconds*float64(time.Second)), func() {
			fmt.Fprintf(os.Stderr, "lapwright: this takes more than %.0f seconds, which is all that it may have here: ask for less\n", seconds)
			os.Exit(exitBad)
		})
	}
	most, err := strconv.Atoi(os.Getenv(memoryLimit))
	if err != nil || most <= 0 {
		return
	}
	debug.SetMemoryLimit(int64(most) << 20 * 9 / 10)
	go func() {
		used := []metrics.Sample{{Name: "/memory/classes/total:bytes"}, {Name: "/memory/classes/heap/released:bytes"}}
		for range time.Tick(50 * time.Millisecond) {
			metrics.Read(used)
			if used[0].Value.Uint64()-used[1].Value.Uint64() > uint64(most)<<20 {
				fmt.Fprintf(os.Stderr, "lapwright: this needs more than %d MB of memory, which is all that it may have here: ask for less\n", most)
				os.Exit(exitBad)
			}
		}
	}()
}
