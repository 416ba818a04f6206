//go:build race

package search

// slower is how many times fewer draws are made where the race detector makes
// everything slower; what is as good in a smaller room is then tried there.
const slower = 20
