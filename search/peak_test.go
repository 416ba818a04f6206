package search

import (
	"os"
	"regexp"
	"runtime/debug"
	"strconv"
)

// watchPeak begins to watch how much memory the process holds. What it returns says how
// many MB (10^6 bytes) that were at the most since: all of it, the figures and what the
// runtime has not given back too, as the system counts it. Over many searches that is
// more than one of them takes; -benchtime 1x has one. It is not known where the system
// does not keep that count or lets nobody set it back, as Linux does (proc(5): VmHWM,
// clear_refs).
func watchPeak() func() (mb float64, known bool) {
	debug.FreeOSMemory()
	cleared := os.WriteFile("/proc/self/clear_refs", []byte("5"), 0)
	return func() (float64, bool) {
		status, err := os.ReadFile("/proc/self/status")
		m := highWater.FindSubmatch(status)
		if cleared != nil || err != nil || m == nil {
			return 0, false
		}
		kib, err := strconv.ParseFloat(string(m[1]), 64)
		return kib * 1024 / 1e6, err == nil
	}
}

var highWater = regexp.MustCompile(`(?m)^VmHWM:\s*(\d+) kB$`)
