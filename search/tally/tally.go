// Package tally holds whole numbers of 128 bits, in which ways of dancing are counted
// exactly: 16 figures in a row can be danced in more ways than 64 bits hold.
//
// What lives here: adding, comparing and writing them. What does not: what is counted (packages search and
// future).
package tally

import (
	"cmp"
	"math/big"
	"math/bits"
)

// Count is a whole number from 0 to under 2 to the power of 128, the higher half first.
type Count [2]uint64

// One is the number 1.
var One = Count{0, 1}

// Plus is the sum; ok tells that it can be held.
func (c Count) Plus(more Count) (sum Count, ok bool) {
	var carry uint64
	sum[1], carry = bits.Add64(c[1], more[1], 0)
	sum[0], carry = bits.Add64(c[0], more[0], carry)
	return sum, carry == 0
}

// Big is the same number without a limit.
func (c Count) Big() *big.Int {
	high := new(big.Int).SetUint64(c[0])
	return high.Lsh(high, 64).Or(high, new(big.Int).SetUint64(c[1]))
}

// Compare is negative where c is less than another count, positive where it is more, and
// 0 where they are the same.
func (c Count) Compare(o Count) int {
	return cmp.Or(cmp.Compare(c[0], o[0]), cmp.Compare(c[1], o[1]))
}

// String writes the number with all its digits.
func (c Count) String() string { return c.Big().String() }

// MarshalJSON writes the number with all its digits.
func (c Count) MarshalJSON() ([]byte, error) { return []byte(c.String()), nil }
