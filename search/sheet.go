package search

import "lapwright/floors"

// sheet is the shape of a layer's grids: its box, row by row, each row from a new word on.
type sheet struct {
	low   floors.Cell
	cols  int
	rows  int
	words int // of a row
}

func (s *sheet) size() int { return s.words * s.rows }

// bit is where a place's bit is.
func (s *sheet) bit(place int) (word int, bit uint64) {
	x, y := place%s.cols, place/s.cols
	return y*s.words + x/64, 1 << (x % 64)
}
