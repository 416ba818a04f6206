package search

import (
	"context"
	"testing"

	"pgregory.net/rapid"
)

// TestProgressIsTrue: whatever is told on the way, no lap that keeps to the limits costs
// less than it says, and there is one that costs as much as the best one it tells of, or
// less. What is told gets better each time.
func TestProgressIsTrue(t *testing.T) {
	var plain, limited, of int
	draws(t, 0.3, func(t *rapid.T) {
		c := someCloset(t)
		p := telling(t, c, 1, func(p *Problem) {
			p.Weights, p.Limits.RightTurns = c.problem.Weights, 0
			if rapid.Bool().Draw(t, "limited") {
				rapid.SampledFrom(limitKinds[:14]).Draw(t, "kind").draw(t, p)
			}
		})
		w := c.in(t, 1)
		best, known := w.oneByOne(&p.Limits, 2*w.best, nil)
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
		if p.Limits.past() {
			limited++
		} else {
			plain++
		}
	})
	t.Logf("%d searches without limits, %d with; %d times it was told of a lap", plain, limited, of)
	if slower == 1 && (plain == 0 || limited == 0 || of == 0) {
		t.Error("that shows little")
	}
}
