package repair_test

import (
	"context"
	"reflect"
	"runtime"
	"testing"

	"lapwright/figures/geometry"
	"lapwright/search/repair"
)

// TestInvariance: the answer does not depend on the number of cores, nor on whether
// somebody listens.
func TestInvariance(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Reverse Turn", "Whisk", "Natural Turn (1-3)", "Outside Change")
	first := find(t, p)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	heard := 0
	again, err := repair.Find(context.Background(), p, func(int, int) { heard++ })
	if err != nil || !reflect.DeepEqual(first, again) {
		t.Errorf("%+v\n%+v, %v", first, again, err)
	}
	if heard != again.Expanded/1024 {
		t.Errorf("%d steps are told of %d times", again.Expanded, heard)
	}
}

// TestMoreAreTheSame: those that come first do not depend on how many are asked for.
func TestMoreAreTheSame(t *testing.T) {
	p := problem(t, geometry.Point{X: 3, Y: 1.8}, "DW, RF, closed", "Natural Turn", "Reverse Turn", "Natural Turn (1-3)", "Outside Change")
	p.Count = 12
	all := find(t, p)
	for p.Count = 1; p.Count < 12; p.Count++ {
		some := find(t, p)
		for i, w := range some.Ways {
			if i >= len(all.Ways) || names(w.Routine.Steps) != names(all.Ways[i].Routine.Steps) {
				t.Fatalf("of %d, way %d is %s", p.Count, i+1, names(w.Routine.Steps))
			}
		}
	}
}
