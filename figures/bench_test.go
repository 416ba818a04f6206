package figures

import "testing"

// BenchmarkLoad reads the whole library and checks every figure in it.
func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := loadBuiltIn(DefaultCouple()); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDance dances every variant of the library once.
func BenchmarkDance(b *testing.B) {
	variants, couple := BuiltIn().Variants(), DefaultCouple()
	b.ReportAllocs()
	for b.Loop() {
		for _, v := range variants {
			v.Dance(v.Entries[0], couple)
		}
	}
	b.ReportMetric(float64(len(variants)), "figures/op")
}

// BenchmarkSweep takes the floor of every variant of the library once.
func BenchmarkSweep(b *testing.B) {
	var danced []*Danced
	for _, v := range BuiltIn().Variants() {
		danced = append(danced, v.Dance(v.Entries[0], DefaultCouple()))
	}
	b.ReportAllocs()
	discs := 0
	for b.Loop() {
		discs = 0
		for _, d := range danced {
			discs += len(d.Sweep())
		}
	}
	b.ReportMetric(float64(discs), "discs/op")
}
