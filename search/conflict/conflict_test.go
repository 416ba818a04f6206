package conflict

import (
	"context"
	"errors"
	"math"
	"math/bits"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// clashes are sets of constraints that cannot be kept together, each as one bit a
// constraint, and whether that can be proven.
type clashes struct {
	n      int
	sets   []uint64
	proven []bool
	asked  int
	stop   int // the question that cannot be answered any more; 0: never
}

var errStopped = errors.New("stopped")

func (c *clashes) oracle(_ context.Context, kept []int) (Answer, error) {
	if c.asked++; c.asked == c.stop {
		return Impossible, errStopped
	}
	return c.answer(kept), nil
}

// answer is the best answer there is: proven if any of the sets that are kept is.
func (c *clashes) answer(kept []int) Answer {
	a := Possible
	for i, s := range c.sets {
		if s&^mask(kept) != 0 {
			continue
		}
		if c.proven[i] {
			return Impossible
		}
		a = Unknown
	}
	return a
}

func mask(members []int) (m uint64) {
	for _, i := range members {
		m |= 1 << i
	}
	return m
}

// drawClashes draws up to 40 constraints with up to 6 sets that clash.
func drawClashes(t *rapid.T) *clashes {
	c := &clashes{n: rapid.IntRange(0, 40).Draw(t, "constraints")}
	for range rapid.IntRange(0, 6).Draw(t, "clashes") {
		var set uint64
		for _, i := range rapid.SliceOfN(rapid.IntRange(0, max(0, c.n-1)), 0, 5).Draw(t, "members") {
			if i < c.n {
				set |= 1 << i
			}
		}
		c.sets = append(c.sets, set)
		c.proven = append(c.proven, rapid.Bool().Draw(t, "proven"))
	}
	return c
}

// mostAsked is Junker's bound on the questions, with the first one, about all.
func mostAsked(n, k int) int {
	if k == 0 {
		return 2
	}
	whole := 1 << bits.Len(uint(max(1, n)-1)) // n rounded up to a power of two
	return 2*k + int(math.Floor(2*float64(k)*math.Log2(float64(whole)/float64(k))+1e-9)) + 1
}

func TestFindIsIrreducible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawClashes(t)
		clash, err := Find(context.Background(), c.n, c.oracle)
		if err != nil {
			t.Fatal(err)
		}
		if all := c.answer(others(c.n, nil)); (clash == nil) != (all == Possible) {
			t.Fatalf("the clash is %v where all are %v", clash, all)
		}
		if clash == nil {
			return
		}
		if a := c.answer(clash.Members); a == Possible || clash.Proven != (a == Impossible) {
			t.Errorf("%v is %v", clash, a)
		}
		if !clash.Irreducible || !slices.IsSorted(clash.Members) {
			t.Errorf("%v may have members too many", clash)
		}
		for i := range clash.Members {
			rest := slices.Delete(slices.Clone(clash.Members), i, i+1)
			if a := c.answer(rest); a != Possible {
				t.Errorf("%v without one is %v", clash, a)
			}
		}
		if most := mostAsked(c.n, len(clash.Members)); clash.Asked > most || clash.Asked != c.asked {
			t.Errorf("asked %d times (%d are told) about %d constraints for %v; at most %d are needed", c.asked, clash.Asked, c.n, clash.Members, most)
		}
	})
}

// TestFindIsStopped: whatever question goes without an answer, what is returned
// clashes, and nothing is said to be proven or irreducible that is not.
func TestFindIsStopped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawClashes(t)
		c.stop = rapid.IntRange(1, 12).Draw(t, "stop")
		clash, err := Find(context.Background(), c.n, c.oracle)
		if (err != nil) != (c.asked == c.stop) || err != nil && !errors.Is(err, errStopped) {
			t.Fatalf("stopped at question %d of %d: %v", c.stop, c.asked, err)
		}
		if clash == nil {
			if err != nil && c.stop > 1 {
				t.Error("what was known is lost")
			}
			return
		}
		a := c.answer(clash.Members)
		if a == Possible || clash.Proven && a != Impossible {
			t.Errorf("%v is %v", clash, a)
		}
		for i := range clash.Members {
			rest := slices.Delete(slices.Clone(clash.Members), i, i+1)
			if clash.Irreducible && c.answer(rest) != Possible {
				t.Errorf("%v is not irreducible", clash)
			}
		}
	})
}

// TestFindBelievesNoContradiction: an oracle that does not find every way, as one
// that looks at a part of them only, is never made to prove one away, and a set that
// it contradicts itself about still has no member that it has found to be idle.
func TestFindBelievesNoContradiction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawClashes(t)
		blind := rapid.Uint64().Draw(t, "blind")
		oracle := func(ctx context.Context, kept []int) (Answer, error) {
			a := c.answer(kept)
			if a == Possible && len(kept) > 0 && bits.OnesCount64(blind&mask(kept))%3 == 0 {
				a = Unknown
			}
			return a, nil
		}
		clash, err := Find(context.Background(), c.n, oracle)
		if err != nil {
			t.Fatal(err)
		}
		if clash == nil {
			if c.answer(others(c.n, nil)) != Possible {
				t.Error("a clash is denied")
			}
			return
		}
		if clash.Proven && c.answer(clash.Members) != Impossible {
			t.Errorf("%v is not proven", clash)
		}
		for i := range clash.Members {
			rest := slices.Delete(slices.Clone(clash.Members), i, i+1)
			if clash.Irreducible && c.answer(rest) != Possible {
				t.Errorf("%v is not irreducible", clash)
			}
		}
	})
}

func TestFindPrefersTheFirst(t *testing.T) {
	c := &clashes{n: 8, sets: []uint64{1<<0 | 1<<3, 1<<5 | 1<<6, 1 << 7}, proven: []bool{true, true, true}}
	clash, err := Find(context.Background(), c.n, c.oracle)
	if err != nil || !slices.Equal(clash.Members, []int{0, 3}) {
		t.Errorf("%v %v", clash, err)
	}
}

func TestFindUnderAnEndedContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	c := &clashes{n: 2, sets: []uint64{1}, proven: []bool{true}}
	if clash, err := Find(ctx, c.n, c.oracle); clash != nil || !errors.Is(err, context.Canceled) || c.asked > 0 {
		t.Errorf("%v %v after %d questions", clash, err, c.asked)
	}
}

func TestLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		most := rapid.IntRange(0, 1000).Draw(t, "most")
		opens := rapid.IntRange(1, 1100).Draw(t, "opens")
		proves := rapid.IntRange(0, opens-1).Draw(t, "proves") // up to here there is proven to be no way
		stop := rapid.IntRange(0, 15).Draw(t, "stop")
		asked := 0
		o, err := Least(context.Background(), most, func(_ context.Context, by int) (Answer, error) {
			if by < 1 || by > most {
				t.Fatalf("asked about %d of %d", by, most)
			}
			if asked++; asked == stop {
				return Possible, errStopped
			}
			switch {
			case by >= opens:
				return Possible, nil
			case by <= proves:
				return Impossible, nil
			}
			return Unknown, nil
		})
		if o.Asked != asked || asked > 2*bits.Len(uint(most))+2 {
			t.Errorf("asked %d times (%d are told) up to %d", asked, o.Asked, most)
		}
		if o.Found && o.At < opens || o.Shut >= opens || o.Proven && (o.Shut > proves || o.Shut == 0) || !o.Proven && o.Shut > 0 && o.Shut <= proves {
			t.Errorf("opens at %d, proven to %d: %+v", opens, proves, o)
		}
		if err != nil {
			return
		}
		if o.Found != (opens <= most) || o.Found && (o.At != opens || o.Shut != opens-1) || !o.Found && o.Shut != most {
			t.Errorf("opens at %d of %d: %+v", opens, most, o)
		}
	})
}

func TestAdditions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawClashes(t) // here: sets that open a way
		opens := func(added []int) bool {
			return slices.ContainsFunc(c.sets, func(s uint64) bool { return s&^mask(added) == 0 })
		}
		otherwise := rapid.SampledFrom([]Answer{Unknown, Impossible}).Draw(t, "otherwise")
		added, proven, err := Additions(context.Background(), c.n, func(_ context.Context, added []int) (Answer, error) {
			if opens(added) {
				return Possible, nil
			}
			return otherwise, nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if !opens(others(c.n, nil)) {
			if added != nil || proven != (otherwise == Impossible) {
				t.Errorf("%v opens a way, proven %t, where nothing does", added, proven)
			}
			return
		}
		if !opens(added) {
			t.Errorf("%v opens no way", added)
		}
		for i := range added {
			if opens(slices.Delete(slices.Clone(added), i, i+1)) {
				t.Errorf("%v has more than is needed", added)
			}
		}
	})
}
