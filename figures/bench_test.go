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

// BenchmarkJoins dances every join of the library once, from where the feet are.
func BenchmarkJoins(b *testing.B) {
	variants := BuiltIn().Variants()
	begins := map[Stance][]*Variant{}
	for _, v := range variants {
		for _, e := range v.Entries {
			begins[e] = append(begins[e], v)
		}
	}
	joins := 0
	b.ReportAllocs()
	for b.Loop() {
		joins = 0
		for _, v := range variants {
			d := v.Dance(v.Entries[0], DefaultCouple())
			for _, next := range begins[d.Exit] {
				if _, ok := d.Join(next, 0); ok {
					joins++
				}
			}
		}
	}
	b.ReportMetric(float64(joins), "joins/op")
}
