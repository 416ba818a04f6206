package tally_test

import (
	"encoding/json"
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

// Counts are compared and written as math/big does it.
func TestCompareAndWrite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) tally.Count {
			return tally.Count{rapid.SampledFrom([]uint64{0, 1, 1 << 63}).Draw(t, name), rapid.Uint64().Draw(t, name)}
		}
		a, b := draw("a"), draw("b")
		if got, want := a.Compare(b), a.Big().Cmp(b.Big()); got != want {
			t.Fatalf("%v and %v compare %d, want %d", a, b, got, want)
		}
		if got, err := json.Marshal(a); err != nil || string(got) != a.Big().String() || a.String() != string(got) {
			t.Fatalf("%v is written %s, %v", a.Big(), got, err)
		}
	})
}
