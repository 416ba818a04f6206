//go:build race

package search

// slower is how many times fewer draws are made where the race detector makes
// everything slower.
const slower = 10
