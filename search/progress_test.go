package search

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

// TestProgressIsTrue: whatever is told on the way, no lap that keeps to the limits costs
// less than it says, nor is a lap told of that does. What is told gets better each time.
func TestProgressIsTrue(t *testing.T) {
	var of int
	draws(t, 0.25, func(t *rapid.T) {
		var c *closet
		var p *Problem
		if rapid.IntRange(0, 3).Draw(t, "limited") == 0 {
			c = someCloset(t)
			p = telling(t, c, 1, func(p *Problem) { rapid.SampledFrom(limitKinds[:14]).Draw(t, "kind").draw(t, p) })
		} else {
			// Where joins are dear the least cost of a lap that ends in another post than
			// it began in is no cost of a lap, and the stances are searched in turn.
			c = drawCloset(t)
			p = c.problem
			p.Weights.Repeat = float64(rapid.IntRange(0, 300).Draw(t, "dear repeat")) / 100
			p.Weights.Awkward = float64(rapid.IntRange(0, 300).Draw(t, "dear awkward join")) / 100
		}
		w := c.in(t, 1)
		best, known := w.oneByOne(&p.Limits, 2*min(w.best, unreachable/2), nil)
		if _, err := p.settled(); err != nil || !known || best == unreachable {
			return
		}
		var told []Progress
		if _, err := Find(context.Background(), p, func(p Progress) { told = append(told, p) }); err != nil {
			t.Fatal(err)
		}
		var before Progress
		for _, now := range told {
			if now.Expanded == 0 {
				continue // the floor is looked at
			}
			if hundredths(now.Least) > best || now.Best != 0 && hundredths(now.Best) < best {
				t.Fatalf("%s, %+v: told %+v; the best lap costs %d", c.name, p.Limits, now, best)
			}
			if now.Least < before.Least || before.Best != 0 && (now.Best == 0 || now.Best > before.Best) {
				t.Fatalf("%s, %+v: told %+v after %+v", c.name, p.Limits, now, before)
			}
			before = now
			if now.Best != 0 {
				of++
			}
		}
	})
	t.Logf("%d times it was told of a lap", of)
	if slower == 1 && of == 0 {
		t.Error("that shows little")
	}
}
