//go:build !race

package track_test

import "lapwright/cmd/internal/track"

// longTrack is how many minutes the longest track of the tests takes.
const longTrack = track.MostMinutes
