package search

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search/conflict"
	"lapwright/search/routine"

	"pgregory.net/rapid"
)

// universe is every lap there is, in a world of its own: no floor is asked about.
type universe struct {
	laps  []*Lap
	blind bool // nothing is ever proven
	asked int
}

func (u *universe) feasible(ctx context.Context, p *Problem) (conflict.Answer, *Lap, error) {
	u.asked++
	if err := ctx.Err(); err != nil {
		return conflict.Unknown, nil, err
	}
	if lap := u.lap(p); lap != nil {
		return conflict.Possible, lap, nil
	}
	if u.blind {
		return conflict.Unknown, nil, nil
	}
	return conflict.Impossible, nil, nil
}

// lap is the first lap that keeps to the limits, with figures that may be danced.
func (u *universe) lap(p *Problem) *Lap {
	for _, lap := range u.laps {
		known := func(s routine.Step) bool { return slices.Contains(p.Variants, s.Variant) }
		if p.keepsAll(lap) && !slices.ContainsFunc(lap.Steps, func(s routine.Step) bool { return !known(s) }) {
			return lap
		}
	}
	return nil
}

// made is a lap of some variants, whether they join or not; the corners are taken
// before the given figures.
func made(variants []*figures.Variant, corners ...int) *Lap {
	lap := &Lap{Start: routine.Start{Stance: variants[0].Entries[0]}}
	for i, v := range variants {
		step := routine.Step{Variant: v, Scale: 1, Corner: routine.Stay}
		if slices.Contains(corners, i) {
			step.Corner = routine.Take
		}
		lap.Steps = append(lap.Steps, step)
		lap.Bars += v.Bars()
	}
	return lap
}

// alphabet are figures that differ in bars and turn.
func alphabet(t faulty) []*figures.Variant {
	return []*figures.Variant{variant(t, "Natural Turn"), variant(t, "Reverse Turn"), variant(t, "Whisk"),
		variant(t, "Left Foot Closed Change"), variant(t, "Hesitation Change"), variant(t, "Natural Turn (1-3)")}
}

// anyLimits draws limits of every kind, each of which is set half the time.
func anyLimits(t *rapid.T, letters []*figures.Variant) (l Limits) {
	number := func(label string, least, most int) int {
		if rapid.Bool().Draw(t, label+" set") {
			return rapid.IntRange(least, most).Draw(t, label)
		}
		return 0
	}
	figure := func(label string) *figures.Figure { return rapid.SampledFrom(letters).Draw(t, label).Figure }
	l.MaxBars = number("most bars", 3, 14)
	l.MinBars = number("least bars", 2, 10)
	if l.MaxBars > 0 {
		l.MinBars = min(l.MinBars, l.MaxBars)
	}
	l.Uses, l.Apart, l.Different = number("uses", 1, 3), number("apart", 2, 6), number("different", 2, 5)
	l.Phrase, l.RightTurns = number("phrase", 2, 4), number("right turns", 1, 3)
	for range number("musts", 1, 2) {
		if f := figure("must"); !slices.Contains(l.Must, f) {
			l.Must = append(l.Must, f)
		}
	}
	for range number("caps", 1, 2) {
		f := figure("cap")
		l.Caps = append(l.Caps, Cap{f.Name, func(v *figures.Variant) bool { return v.Figure == f }, rapid.IntRange(0, 2).Draw(t, "most")})
	}
	if a, b := figure("first"), figure("then"); a != b && rapid.Bool().Draw(t, "order set") {
		l.Orders = append(l.Orders, Order{a, b})
	}
	for range number("fixed", 1, 1) {
		l.Fixed = append(l.Fixed, Fixed{figure("fixed figure"), rapid.IntRange(1, 5).Draw(t, "bar"), rapid.IntRange(-1, 1).Draw(t, "wall")})
	}
	l.LeaderStep = float64(number("leader's step", 60, 110)) / 100
	l.FollowerStep = float64(number("follower's step", 60, 110)) / 100
	return l
}

// TestReasons: in a world of few laps, what is said to clash does, each of it is
// needed, and what is said to be the least that helps is.
func TestReasons(t *testing.T) {
	studio, letters := named(t, "studio"), alphabet(t)
	several := 0
	rapid.Check(t, func(t *rapid.T) {
		u := &universe{blind: rapid.Bool().Draw(t, "blind")}
		for range rapid.IntRange(1, 12).Draw(t, "laps") {
			u.laps = append(u.laps, made(rapid.SliceOfN(rapid.SampledFrom(letters), 1, 8).Draw(t, "figures"), rapid.IntRange(0, 4).Draw(t, "corner")))
		}
		p := problem(studio, letters)
		p.Limits = anyLimits(t, letters)
		if _, err := p.settled(); err != nil {
			return // contradictions are told before any search
		}
		w := newWondering(context.Background(), p, u.feasible)
		w.noRoom = true
		r, err := w.wonder()
		if err != nil {
			t.Fatal(err)
		}
		several += yes(len(w.members) > 1)
		if (r == nil) != (u.lap(p) != nil) {
			t.Fatalf("the reasons are %v", r)
		}
		if r == nil {
			return
		}
		if r.Proven == u.blind || !r.Irreducible || len(w.members) == 0 {
			t.Errorf("%+v", r)
		}
		has := func(l Limits) bool {
			own := *p
			own.Limits = l
			return u.lap(&own) != nil
		}
		if has(w.limits(w.members)) {
			t.Errorf("there is a lap that keeps to %q", r.Clash)
		}
		for i := range w.members {
			if !has(w.limits(slices.Delete(slices.Clone(w.members), i, i+1))) {
				t.Errorf("%q has more than is needed", r.Clash)
			}
			d := &w.demands[w.members[i]]
			others := w.others(w.members[i])
			want := d.without // the words of the way that is to be told
			switch {
			case !has(w.limits(others)):
			case d.ease == nil:
				for k := range d.others {
					l := w.limits(others)
					d.others[k].keep(&l)
					if has(l) {
						want = d.others[k].words + " would do"
						break
					}
				}
			default:
				for by := 1; ; by++ {
					l := w.limits(others)
					if d.ease(&l, by); has(l) {
						want = d.eased(by) + " would do"
						if d.nothing > 0 && by >= d.nothing {
							want = d.without
						}
						break
					}
				}
			}
			if !strings.HasPrefix(r.Ways[i].Words, want) {
				t.Errorf("%q is said, not %q", r.Ways[i].Words, want)
			}
		}
		if proven := strings.Contains(strings.Join(r.Sentences(p), "\n"), "(proven"); proven && u.blind {
			t.Errorf("nothing is proven: %q", r.Sentences(p))
		}
	})
	if several == 0 {
		t.Error("no limits clashed with each other in any draw")
	}
}

// TestDemandsAreTheLimits: kept one by one, the demands are the limits again.
func TestDemandsAreTheLimits(t *testing.T) {
	studio, letters := named(t, "studio"), alphabet(t)
	rapid.Check(t, func(t *rapid.T) {
		p := problem(studio, letters)
		p.Limits = anyLimits(t, letters)
		var l Limits
		for _, d := range p.demands() {
			d.keep(&l)
		}
		want := p.Limits
		if len(l.Caps) != len(want.Caps) {
			t.Fatalf("%d caps of %d", len(l.Caps), len(want.Caps))
		}
		for i := range l.Caps {
			if l.Caps[i].Name != want.Caps[i].Name || l.Caps[i].Most != want.Caps[i].Most {
				t.Errorf("%v, not %v", l.Caps[i], want.Caps[i])
			}
		}
		l.Caps, want.Caps = nil, nil
		if !reflect.DeepEqual(l, want) {
			t.Errorf("%+v, not %+v", l, want)
		}
	})
}

// TestReasonsInWords: the words for every kind of limit, in a world of one lap:
// Natural Turn, Whisk, Natural Turn, Natural Turn (1-3), Reverse Turn: 8 bars.
func TestReasonsInWords(t *testing.T) {
	studio := named(t, "studio")
	natural, whisk, reverse, change := figure(t, "Natural Turn"), figure(t, "Whisk"), figure(t, "Reverse Turn"), figure(t, "Left Foot Closed Change")
	only := made([]*figures.Variant{variant(t, "Natural Turn"), variant(t, "Whisk"), variant(t, "Natural Turn"), variant(t, "Natural Turn (1-3)"), variant(t, "Reverse Turn")}, 3)
	turning := func(v *figures.Variant) bool { return v.Figure == natural }
	start := &routine.Start{Stance: stance(t, "DW, RF"), At: at(2, 1)}
	for _, c := range []struct {
		limits Limits
		clash  string
		ways   []string
	}{
		{Limits{MaxBars: 5}, "at most 5 bars", []string{"at most 8 bars would do; at most 7 bars would not (proven)"}},
		{Limits{MinBars: 10}, "at least 10 bars", []string{"at least 8 bars would do; at least 9 bars would not (proven)"}},
		{Limits{MinBars: 9}, "at least 9 bars", []string{"at least 8 bars would do"}},
		{Limits{Phrase: 3}, "an end with a phrase of 3 bars", []string{"that ends inside a phrase of the music there is a lap of 8 bars"}},
		{Limits{Must: []*figures.Figure{change}}, "Left Foot Closed Change danced at least once", []string{"without Left Foot Closed Change there is a lap of 8 bars"}},
		{Limits{Uses: 1}, "no figure more than 1 time", []string{"no figure more than 3 times would do, with a lap of 8 bars; no figure more than 2 times would not (proven)"}},
		{Limits{Apart: 8}, "at least 8 bars from one use of a figure to the next",
			[]string{"at least 2 bars from one use of a figure to the next would do, with a lap of 8 bars; at least 3 bars from one use of a figure to the next would not (proven)"}},
		{Limits{Caps: []Cap{{"natural turns", turning, 0}}}, "natural turns at most 0 times in all",
			[]string{"natural turns at most 3 times in all would do, with a lap of 8 bars; natural turns at most 2 times in all would not (proven)"}},
		{Limits{Different: 6}, "at least 6 different figures",
			[]string{"at least 3 different figures would do, with a lap of 8 bars; at least 4 different figures would not (proven)"}},
		{Limits{Orders: []Order{{reverse, whisk}}}, "Reverse Turn danced before Whisk is", []string{"in which Whisk comes before Reverse Turn has been danced there is a lap of 8 bars"}},
		{Limits{Orders: []Order{{change, whisk}}}, "Left Foot Closed Change danced before Whisk is", []string{"in which Whisk comes before Left Foot Closed Change has been danced there is a lap of 8 bars"}},
		{Limits{Fixed: []Fixed{{whisk, 2, -1}}}, "Whisk at bar 2", []string{"Whisk at bar 3 would do, with a lap of 8 bars"}},
		{Limits{Fixed: []Fixed{{whisk, 3, 1}}}, "Whisk at bar 3 along door end", []string{"Whisk at bar 3 would do, with a lap of 8 bars"}},
		{Limits{Fixed: []Fixed{{reverse, 1, 1}}}, "Reverse Turn at bar 1 along door end", []string{"in which Reverse Turn does not begin at bar 1 there is a lap of 8 bars"}},
		{Limits{RightTurns: 1}, "at most 1 right turn in a row", []string{"at most 2 right turns in a row would do, with a lap of 8 bars"}},
		{Limits{LeaderStep: 0.8}, "no step of the leader longer than 0.8 m", []string{"no step of the leader longer than 1.00 m would do, with a lap of 8 bars; no step of the leader longer than 0.99 m would not (proven)"}},
		{Limits{Hardest: 2}, "no figure or join harder than 2 points", []string{"no figure or join harder than 2.5 points would do, with a lap of 8 bars; no figure or join harder than 2.49 points would not (proven)"}},
		{Limits{Must: []*figures.Figure{change}, Uses: 2}, "Left Foot Closed Change danced at least once", []string{"without Left Foot Closed Change there is no lap either (proven)"}},
	} {
		p := problem(studio, alphabet(t))
		p.Limits, p.Start = c.limits, start
		w := newWondering(context.Background(), p, (&universe{laps: []*Lap{only}}).feasible)
		w.noRoom = true
		r, err := w.wonder()
		if err != nil || r == nil {
			t.Errorf("%q: %v", c.clash, err)
			continue
		}
		want := append([]string{"no lap keeps to this: " + c.clash + " (proven)"}, c.ways...)
		if got := r.Sentences(p); !slices.Equal(got, want) {
			t.Errorf("%q, not %q", got, want)
		}
	}
}

// TestReasonsOfSeveral: sentences on more than one limit, proven and not.
func TestReasonsOfSeveral(t *testing.T) {
	nn, w, c := variant(t, "Natural Turn"), variant(t, "Whisk"), variant(t, "Left Foot Closed Change")
	two := []*Lap{made([]*figures.Variant{nn, nn, w}), made([]*figures.Variant{nn, nn, nn, c, w})}
	three := []*Lap{made([]*figures.Variant{w, w, c}), made([]*figures.Variant{nn, c, w}), made([]*figures.Variant{w, nn})}
	must := []*figures.Figure{c.Figure}
	for _, try := range []struct {
		laps   []*Lap
		limits Limits
		blind  bool
		want   []string
	}{
		{two, Limits{MaxBars: 5, MinBars: 2, Must: must}, false, []string{
			"these limits clash: at most 5 bars; Left Foot Closed Change danced at least once; no lap keeps to both (proven for the starts that were tried), though one keeps to either",
			"at most 8 bars would do; at most 7 bars would not (proven for the starts that were tried)",
			"without Left Foot Closed Change there is a lap of 5 bars",
		}},
		{two, Limits{MaxBars: 5, MinBars: 2, Must: must}, true, []string{
			"these limits clash: at most 5 bars; Left Foot Closed Change danced at least once; no lap was found that keeps to both (that there is none is not proven), though one keeps to either",
			"at most 8 bars would do; with at most 7 bars none was found",
			"without Left Foot Closed Change there is a lap of 5 bars",
		}},
		{three, Limits{MaxBars: 3, Uses: 1, Must: must, Different: 1}, false, []string{
			"these limits clash: at most 3 bars; Left Foot Closed Change danced at least once; no figure more than 1 time; no lap keeps to all of them (proven for the starts that were tried), though one keeps to all but any one of them",
			"at most 4 bars would do",
			"without Left Foot Closed Change there is a lap of 3 bars",
			"no figure more than 2 times would do, with a lap of 3 bars",
		}},
		{two, Limits{Uses: 1, Must: []*figures.Figure{figure(t, "Reverse Turn")}}, true, []string{
			"no lap was found that keeps to this: Reverse Turn danced at least once (that there is none is not proven)",
			"without Reverse Turn no lap was found either",
		}},
	} {
		p := problem(named(t, "studio"), alphabet(t))
		p.Limits = try.limits
		w := newWondering(context.Background(), p, (&universe{laps: try.laps, blind: try.blind}).feasible)
		w.noRoom = true
		r, err := w.wonder()
		if err != nil || r == nil {
			t.Fatal(r, err)
		}
		if got := r.Sentences(p); !slices.Equal(got, try.want) {
			t.Errorf("%q, not %q", got, try.want)
		}
	}
}

// TestMoreFigures: those are added that are needed, and those first that are named
// first.
func TestMoreFigures(t *testing.T) {
	letters := alphabet(t)
	nn, rt, w, c := letters[0], letters[1], letters[2], letters[3]
	p := problem(named(t, "studio"), []*figures.Variant{nn, c})
	p.More = []*figures.Variant{letters[4], rt, w}
	for _, try := range []struct {
		laps  []*Lap
		words string
	}{
		{[]*Lap{made([]*figures.Variant{nn, rt})}, "with Reverse Turn added there is a lap of 4 bars"},
		{[]*Lap{made([]*figures.Variant{nn, w}), made([]*figures.Variant{nn, rt})}, "with Reverse Turn added there is a lap of 4 bars"},
		{[]*Lap{made([]*figures.Variant{nn, w, rt})}, "with Reverse Turn and Whisk added there is a lap of 5 bars"},
		{[]*Lap{made([]*figures.Variant{variant(t, "Outside Change")})}, "with any of the other figures there is no lap either (proven for the starts that were tried)"},
	} {
		w := newWondering(context.Background(), p, (&universe{laps: try.laps}).feasible)
		w.noRoom = true
		r, err := w.wonder()
		if err != nil || r == nil || !slices.Equal(r.Sentences(p), []string{try.words}) {
			t.Errorf("%q, not %q: %v", r.Sentences(p), try.words, err)
		}
	}
}

// TestMoreRoom: how much longer a room must be.
func TestMoreRoom(t *testing.T) {
	p := problem(named(t, "studio"), alphabet(t))
	p.Start = &routine.Start{Stance: stance(t, "DW, RF"), At: at(8, 1.5)}
	lap := made(alphabet(t)[:2])
	for _, c := range []struct {
		fits  func(*floors.Room) bool
		words []string
	}{
		{func(r *floors.Room) bool { return r.Walls[0].Length >= 10.5 }, []string{
			"with 1.5 m more along mirror side there is a lap of 4 bars; with 1.25 m none was found", "with up to 6 m more along door end no lap was found either"}},
		{func(r *floors.Room) bool { return r.Walls[1].Length > 6 }, []string{
			"with 0.25 m more along door end there is a lap of 4 bars", "with up to 6 m more along mirror side no lap was found either"}},
		{func(r *floors.Room) bool { return false }, []string{"with up to 6 m more along mirror side or along door end no lap was found either"}},
	} {
		r, err := Why(context.Background(), p, func(_ context.Context, p *Problem) (conflict.Answer, *Lap, error) {
			if moved := p.Room.Walls[0].Length - 9; p.Start.At.X != 8+moved {
				t.Errorf("%g m longer, the lap begins at %v", moved, p.Start.At)
			}
			if c.fits(p.Room) {
				return conflict.Possible, lap, nil
			}
			return conflict.Impossible, nil, nil
		})
		if err != nil || r == nil || !slices.Equal(r.Sentences(p), c.words) {
			t.Errorf("%q, not %q: %v", r.Sentences(p), c.words, err)
		}
	}
}

// TestReasonsInTime: whenever the time is over, what is told is true, and that it
// was over is told; when somebody stops the search, nothing is.
func TestReasonsInTime(t *testing.T) {
	letters := alphabet(t)
	u := &universe{laps: []*Lap{made(letters[:3]), made(letters[2:5]), made([]*figures.Variant{letters[0], letters[0], letters[3]})}}
	p := problem(named(t, "studio"), letters)
	p.Limits = Limits{MaxBars: 3, Uses: 1, Must: []*figures.Figure{letters[1].Figure, letters[3].Figure}}
	p.More = of(t, "Outside Change")
	whole, err := Why(context.Background(), p, u.feasible)
	if err != nil || whole == nil || len(whole.Untried) > 0 {
		t.Fatal(whole, err)
	}
	questions := u.asked
	for n := range questions {
		for _, end := range []error{context.DeadlineExceeded, context.Canceled} {
			ctx := &ending{Context: context.Background(), left: n, end: end}
			r, err := Why(ctx, p, func(_ context.Context, p *Problem) (conflict.Answer, *Lap, error) {
				if ctx.left--; ctx.left < 0 {
					return conflict.Unknown, nil, end
				}
				return u.feasible(context.Background(), p)
			})
			if end == context.Canceled {
				if r != nil || !errors.Is(err, end) {
					t.Errorf("stopped after %d questions of %d: %v %v", n, questions, r, err)
				}
				continue
			}
			if err != nil || r == nil || len(r.Untried) == 0 || !strings.Contains(fmt.Sprint(r.Sentences(p)), "the time for finding out why was over") {
				t.Fatalf("over after %d questions of %d: %v %v", n, questions, r, err)
			}
			for _, way := range r.Ways {
				if way.Open && !slices.ContainsFunc(whole.Ways, func(w Way) bool { return w.Open }) {
					t.Errorf("after %d questions there is another way: %q", n, way.Words)
				}
			}
		}
	}
}

// ending is a context that ends after some questions.
type ending struct {
	context.Context
	left int
	end  error
}

func (e *ending) Err() error {
	if e.left <= 0 {
		return e.end
	}
	return nil
}
