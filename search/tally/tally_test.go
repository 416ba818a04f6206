package tally_test

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"lapwright/search/tally"
)

// Sums go beyond what 64 bits hold, and say so beyond 128. The reference is math/big.
func TestPlus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.OneOf(rapid.Uint64(), rapid.SampledFrom([]uint64{0, 1, math.MaxUint64, math.MaxUint64 - 1, 1 << 63}))
		a := tally.Count{word.Draw(t, "a high"), word.Draw(t, "a low")}
		b := tally.Count{word.Draw(t, "b high"), word.Draw(t, "b low")}
		want := new(big.Int).Add(a.Big(), b.Big())
		fits := want.BitLen() <= 128
		if sum, ok := a.Plus(b); ok != fits || ok && sum.Big().Cmp(want) != 0 {
			t.Fatalf("%v + %v = %v (%t), want %v (%t)", a.Big(), b.Big(), sum.Big(), ok, want, fits)
		}
	})
}
