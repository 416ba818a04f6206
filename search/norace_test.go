//go:build !race

package search

const slower = 1
