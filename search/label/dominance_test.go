package label_test

import (
	"testing"

	"lapwright/search/label"
	"lapwright/search/network"
)

// From the source two ways lead to the same node, one cheap and one dear, and from
// there a cheap ending and a very dear one to the last node. The cheap beginning
// spoils the cheap ending by the limit, and it must not push the dear beginning
// aside. The dear ending only looks as if it could be had: a cap forbids it, which a
// bound does not know.
func TestTheCheapBeginningDoesNotPushTheOnlyGoodOneAside(t *testing.T) {
	plain := func(figure, bars int32) network.Way { return network.Way{Figure: figure, Bars: bars} }
	turn := func(figure int32) network.Way { return network.Way{Figure: figure, Bars: 1, Right: true} }
	class := func(figure int32) network.Way { return network.Way{Figure: figure, Bars: 1, Classes: 2} }
	for _, c := range []struct {
		limit                            string
		limits                           label.Limits
		cheap, dear, ending, dearsEnding network.Way
	}{
		{"apart", label.Limits{Apart: 2}, plain(0, 1), plain(1, 1), plain(0, 1), plain(2, 1)},
		{"apart, two bars of it left", label.Limits{Apart: 3}, plain(0, 1), plain(1, 1), plain(0, 1), plain(2, 1)},
		{"uses", label.Limits{Uses: 1}, plain(0, 1), plain(1, 1), plain(0, 1), plain(2, 1)},
		{"caps", label.Limits{Caps: []label.Cap{{Class: 1, Most: 1}}}, class(0), plain(1, 1), class(3), plain(2, 1)},
		{"bars at most", label.Limits{MaxBars: 3}, plain(0, 2), plain(1, 1), plain(2, 2), plain(3, 1)},
		{"bars at least", label.Limits{MinBars: 3}, plain(0, 1), plain(1, 2), plain(2, 1), plain(3, 2)},
		{"phrase", label.Limits{Phrase: 4}, plain(0, 1), plain(1, 2), plain(2, 2), plain(3, 3)},
		{"right turns", label.Limits{RightTurns: 1}, turn(0), plain(1, 1), turn(2), plain(3, 1)},
		{"different", label.Limits{Different: 2}, plain(0, 1), plain(1, 1), plain(0, 1), plain(2, 1)},
		{"must", label.Limits{Must: []int32{1}}, plain(0, 1), plain(1, 1), plain(2, 1), plain(1, 1)},
		{"orders", label.Limits{Orders: []label.Order{{First: 1, Then: 2}}}, plain(0, 1), plain(1, 1), plain(2, 1), plain(3, 1)},
		{
			"fixed", label.Limits{Fixed: []label.Fixed{{Figure: 2, Bar: 3, Wall: -1}, {Figure: 4, Bar: 4, Wall: -1}}},
			plain(0, 1), plain(1, 2), plain(2, 1), plain(2, 1),
		},
	} {
		const forbidden = 5
		c.limits.Caps = append(c.limits.Caps, label.Cap{Class: forbidden, Most: 1})
		c.dearsEnding.Classes = 1 << forbidden
		b := network.Builder{Network: network.Network{
			Ways:    []network.Way{c.cheap, c.dear, c.ending, c.dearsEnding, {Figure: 5, Bars: 1, Classes: 1 << forbidden}, plain(4, 1)},
			Figures: 6, Sources: []int32{0}, End: 4, Walls: make([]int16, 6),
		}}
		b.Add(0, network.Arc{To: 1, Way: 0, Cost: 100})
		b.Add(0, network.Arc{To: 1, Way: 1, Cost: 150})
		b.Add(1, network.Arc{To: 2, Way: 2, Cost: 100})
		b.Add(1, network.Arc{To: 5, Way: 3, Cost: 200})
		b.Add(5, network.Arc{To: 2, Way: 4, Cost: 200})
		b.Add(2, network.Arc{To: 4, Way: network.Closing})
		want := int32(250)
		if c.limit == "fixed" {
			b.Add(2, network.Arc{To: 3, Way: 5, Cost: 100})
			b.Add(3, network.Arc{To: 4, Way: network.Closing})
			want = 350
		}
		n, err := b.Build()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range []*label.Result{solve(t, n, &c.limits, label.Options{}), label.SolveInStages(n, &c.limits, 100)} {
			if !r.Proven || !r.Found || r.Cost != want {
				t.Errorf("%s: %+v, want the lap of cost %d", c.limit, *r, want)
			}
		}
	}
}
