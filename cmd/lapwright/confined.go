package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"runtime/metrics"
	"strconv"
	"time"

	"lapwright/cmd/internal/page"
)

// The page's server, which runs this program for a browser, confines it by the
// environment. Before the time is over it asks for the best so far; the limit here ends
// the program where nobody is left to ask.

// mayRead tells whether a file of that name may be read.
func mayRead(path string) bool { return os.Getenv(page.OnlyHere) == "" || filepath.IsLocal(path) }

// openFile opens a file that may be read; where only those of the folder may be, a link
// that leads out of it is not followed.
func openFile(path string) (*os.File, error) {
	if os.Getenv(page.OnlyHere) == "" {
		return os.Open(path)
	}
	return os.OpenInRoot(".", path)
}

// confine ends the program, with a sentence, when it takes more time or memory than it may.
func confine() {
	if os.Getenv(page.Held) != "" {
		go func() {
			io.Copy(io.Discard, os.Stdin)
			os.Exit(exitBad) // nobody is left who would hear more
		}()
	}
	if seconds, err := strconv.ParseFloat(os.Getenv(page.Seconds), 64); err == nil && seconds > 0 {
		time.AfterFunc(time.Duration(seconds*float64(time.Second)), func() {
			fmt.Fprintf(os.Stderr, "lapwright: this takes more than %.0f seconds, which is all that it may have here: ask for less\n", seconds)
			os.Exit(exitBad)
		})
	}
	most, err := strconv.Atoi(os.Getenv(page.Memory))
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
