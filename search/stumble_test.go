package search

import (
	"os"
	"path/filepath"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// TestNoJoinThatTheFeetRefuse tells that a figure is not danced straight after one
// that leaves the feet where it cannot begin, though the stances fit: neither
// counted nor let through by the checker.
func TestNoJoinThatTheFeetRefuse(t *testing.T) {
	file := filepath.Join("..", "testdata", "figures", "late-outside.yaml")
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	l, err := figures.Load(file, data, figures.DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	room, ok := floors.Named("village hall")
	if !ok {
		t.Fatal("there is no village hall")
	}
	p := problem(room, l.Variants())
	p.Scales = []Scale{{1, 0}}
	late, _ := l.Variant("Late Outside")
	back, _ := l.Variant("Step Back")
	start := routine.Start{At: &geometry.Point{X: 6, Y: 1.5}, Stance: late.Entries[0]}
	for n, want := range []int64{1, 1, 0} {
		got, err := p.Continuations(start, n)
		if err != nil || got.Int64() != want {
			t.Errorf("%v ways of dancing %d figures, want %d (%v)", got, n, want, err)
		}
	}
	r := &routine.Routine{Start: start, Steps: []routine.Step{{Variant: late, Scale: 1}, {Variant: back, Scale: 1}}}
	faults := check.Dance(room, figures.DefaultCouple(), r, check.Limits{Margin: -1}).Faults()
	const words = "straight after Late Outside it cannot be danced: on step 1: the follower's right foot lands on the leader's right foot: the soles overlap by 9 cm"
	if len(faults) != 1 || faults[0].Kind != check.Foot || faults[0].Row != 2 || faults[0].Words != words {
		t.Errorf("the checker says %+v", faults)
	}
}
