package wayout_test

import (
	"flag"
	"strconv"
)

// manyDraws reports whether so many rooms are drawn that every kind is to be among them;
// the race detector is run with a few only.
func manyDraws() bool {
	n, err := strconv.Atoi(flag.Lookup("rapid.checks").Value.String())
	return err == nil && n >= 50
}
