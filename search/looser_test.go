package search

import (
	"testing"

	"lapwright/figures"

	"pgregory.net/rapid"
)

// looser are ways to ask for less: every lap of the problem as it was is one of the
// problem as it is then, at the same cost. They report false where there is nothing to
// let go of.
var looser = []struct {
	name string
	ease func(t *rapid.T, p *Problem) bool
}{
	{"a limit less", func(t *rapid.T, p *Problem) bool {
		l := &p.Limits
		kept := *l
		var all []func()
		add := func(is bool, drop func()) {
			if is {
				all = append(all, drop)
			}
		}
		add(l.MinBars > 0, func() { kept.MinBars = 0 })
		add(l.MaxBars > 0, func() { kept.MaxBars = 0 })
		add(l.Uses > 0, func() { kept.Uses = 0 })
		add(l.Apart > 0, func() { kept.Apart = 0 })
		add(l.Different > 0, func() { kept.Different = 0 })
		add(l.Phrase > 0, func() { kept.Phrase = 0 })
		add(l.RightTurns > 0, func() { kept.RightTurns = 0 })
		add(l.LeaderStep > 0, func() { kept.LeaderStep = 0 })
		add(l.FollowerStep > 0, func() { kept.FollowerStep = 0 })
		add(l.Hardest > 0, func() { kept.Hardest = 0 })
		add(len(l.Must) > 0, func() { kept.Must = l.Must[1:] })
		add(len(l.Caps) > 0, func() { kept.Caps = l.Caps[1:] })
		add(len(l.Orders) > 0, func() { kept.Orders = l.Orders[1:] })
		add(len(l.Fixed) > 0, func() { kept.Fixed = l.Fixed[1:] })
		if all == nil {
			return false
		}
		rapid.SampledFrom(all).Draw(t, "dropped")()
		p.Limits = kept
		return true
	}},
	{"a number eased", func(t *rapid.T, p *Problem) bool {
		l := &p.Limits
		was := [8]int{l.MinBars, l.MaxBars, l.Uses, l.Apart, l.Different, l.RightTurns, l.Phrase, len(l.Caps)}
		l.MinBars, l.Apart, l.Different = max(0, l.MinBars-1), max(0, l.Apart-1), max(0, l.Different-1)
		for _, most := range []*int{&l.MaxBars, &l.Uses, &l.RightTurns} {
			if *most > 0 {
				*most++
			}
		}
		if l.Phrase%2 == 0 {
			l.Phrase /= 2 // an end with a long phrase is one with a phrase half as long
		}
		l.Caps = append([]Cap(nil), l.Caps...)
		for i := range l.Caps {
			l.Caps[i].Most++
		}
		return was != [8]int{}
	}},
	{"a figure at its bar along any wall", func(t *rapid.T, p *Problem) bool {
		eased := anyWall(p.Limits.Fixed)
		p.Limits.Fixed = eased
		return eased != nil
	}},
	{"a figure more", func(t *rapid.T, p *Problem) bool {
		more := of(t, rapid.SampledFrom([]string{"Outside Change", "Hesitation Change", "Passing Natural Turn", "Whisk"}).Draw(t, "one more"))
		have := map[*figures.Variant]bool{}
		for _, v := range p.Variants {
			have[v] = true
		}
		if have[more[0]] {
			return false
		}
		p.Variants = append(append([]*figures.Variant(nil), p.Variants...), more...)
		return true
	}},
	{"another share of the stride", func(t *rapid.T, p *Problem) bool {
		p.Scales = append(append([]Scale(nil), p.Scales...), Scale{0.65, 0.05})
		return true
	}},
	{"less floor kept free", func(t *rapid.T, p *Problem) bool {
		kept := p.Margin
		p.Margin = 0
		return kept > 0
	}},
}

// TestAskingForLessIsNeverDearer: asking for more never makes the best lap cheaper, and
// asking for less never dearer; nor is the bound of what asks for less ever above the
// cost of a lap that keeps to more.
func TestAskingForLessIsNeverDearer(t *testing.T) {
	compared, cheaper, eased := 0, 0, map[string]int{}
	draws(t, 0.08, func(t *rapid.T) {
		c := someCloset(t)
		way := rapid.SampledFrom(looser).Draw(t, "way")
		tight := telling(t, c, 1, func(p *Problem) {
			for _, i := range rapid.SliceOfNDistinct(rapid.IntRange(0, len(limitKinds)-1), 1, max(1, 2/slower), rapid.ID).Draw(t, "kinds") {
				limitKinds[i].draw(t, p)
			}
		})
		tight.Margin = rapid.SampledFrom([]float64{0, 0, 0.02}).Draw(t, "margin")
		loose := *tight
		w := c.in(t, 1)
		if best, _ := w.oneByOne(&tight.Limits, 2*w.best, w.tooLong(tight)); best == unreachable {
			return
		}
		if _, err := tight.settled(); err != nil || !way.ease(t, &loose) {
			return
		}
		with := find(t, tight)
		if with.Lap == nil {
			return
		}
		without := find(t, &loose)
		if without.Lap == nil {
			t.Fatalf("%s, %s: there is a lap with %+v and none with %+v", c.name, way.name, tight.Limits, loose.Limits)
		}
		judge(t, &loose, without.Lap)
		compared++
		eased[way.name]++
		more, less := with.Lap.Costs.Total(), without.Lap.Costs.Total()
		if without.Lap.Bound > more || without.Lap.Proven && less > more {
			t.Errorf("%s, %s: a lap costs %g with %+v; with %+v the best costs %g, and the bound is %g", c.name, way.name,
				more, tight.Limits, loose.Limits, less, without.Lap.Bound)
		}
		if less < more {
			cheaper++
		}
	})
	t.Logf("%d times compared, %d times cheaper; %v", compared, cheaper, eased)
	if slower == 1 && (compared == 0 || compared > 7 && cheaper == 0) {
		t.Error("that shows little")
	}
}
