//go:build race

package track_test

// longTrack is how many minutes the longest track of the tests takes. The race detector
// needs several times the time and memory.
const longTrack = 6
