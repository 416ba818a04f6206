package search

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/search/routine"
)

// TestSenselessLimits: a table of limits that make no sense or contradict each
// other, and what is said about them. The figures are those of the bronze level.
func TestSenselessLimits(t *testing.T) {
	nan := math.NaN()
	f := func(name string) *figures.Figure { return figure(t, name) }
	natural, reverse, whisk, change, chasse := f("Natural Turn"), f("Reverse Turn"), f("Whisk"), f("Left Foot Closed Change"), f("Chassé from Promenade")
	telemark := f("Open Telemark") // silver
	left := func(most int) Cap { return Cap{"turns to the left", (*figures.Variant).TurnsLeft, most} }
	only := func(g *figures.Figure, most int) Cap {
		return Cap{g.Name, func(v *figures.Variant) bool { return v.Figure == g }, most}
	}
	all := len(figuresOf(atLevel(figures.Bronze)))
	filled := eachOnce(append(atLevel(figures.Bronze), f("Double Reverse Spin").Variants...))
	for _, c := range []struct {
		name   string
		limits Limits
		words  string
	}{
		// Numbers.
		{"bars", Limits{MinBars: -1}, "limits cannot be negative: at least -1 bars cannot be asked for"},
		{"uses", Limits{Uses: -2}, "limits cannot be negative: at most -2 uses of a figure cannot be asked for"},
		{"different", Limits{Different: -1}, "limits cannot be negative: -1 different figures"},
		{"phrase", Limits{Phrase: -8}, "limits cannot be negative: a phrase of -8 bars"},
		{"right turns", Limits{RightTurns: -1}, "limits cannot be negative: at most -1 right turns in a row"},
		{"a cap", Limits{Caps: []Cap{left(-1)}}, "limits cannot be negative: at most -1 uses of turns to the left"},
		{"a cap of nothing", Limits{Caps: []Cap{{Name: "leaps", Most: 1}}}, "nothing says which figures are leaps"},
		{"the difficulty", Limits{Hardest: -1}, "figures of at most -1 points a bar cannot be asked for"},
		{"no difficulty", Limits{Hardest: nan}, "figures of at most NaN points a bar cannot be asked for"},
		{"the leader's step", Limits{LeaderStep: -0.5}, "steps of at most -0.5 m for the leader cannot be asked for"},
		{"the follower's step", Limits{FollowerStep: nan}, "steps of at most NaN m for the follower cannot be asked for"},
		{"too many bars", Limits{MaxBars: 1000000}, "a lap of 1000000 bars is not searched: at most 400 can be had"},
		{"more bars than single uses fill", Limits{MinBars: 300, MaxBars: 300, Uses: 1}, fmt.Sprintf("300 bars are asked for, and the figures that may be used fill %d at the most: no figure may be danced more than 1 time", filled)},
		{"more bars than uses far apart fill", Limits{MinBars: filled + 1, MaxBars: 60, Apart: 60}, fmt.Sprintf("%d to 60 bars are asked for, and the figures that may be used fill %d at the most: none again within 60 bars", filled+1, filled)},
		{"too many orders", Limits{Orders: make([]Order, 65)}, "65 orders are asked for; at most 64"},
		{"too many caps", Limits{Caps: make([]Cap, 65)}, "65 caps are asked for; at most 64"},
		{"too many fixed", Limits{Fixed: make([]Fixed, 65)}, "65 figures are fixed at a bar; at most 64"},

		// Figures that may not be danced.
		{"a must", Limits{Must: []*figures.Figure{telemark}}, "Open Telemark must be danced but is not among the figures that may be used"},
		{"a fixed figure", Limits{Fixed: []Fixed{{telemark, 3, -1}}}, "Open Telemark is to begin at bar 3 but is not among"},
		{"a fixed figure that is none", Limits{Fixed: []Fixed{{nil, 3, -1}}}, "the figure that is to begin at bar 3 is none"},
		{"the first of an order", Limits{Orders: []Order{{telemark, whisk}}}, "Open Telemark is to be danced before Whisk but is not among"},
		{"the second of an order", Limits{Orders: []Order{{whisk, telemark}}}, "Open Telemark is to be danced after Whisk but is not among"},
		{"an order of none", Limits{Orders: []Order{{whisk, nil}}}, "one of the figures of an order is none"},

		// Orders.
		{"before itself", Limits{Orders: []Order{{whisk, whisk}}}, "Whisk cannot be danced before itself"},
		{"a circle of two", Limits{Orders: []Order{{whisk, natural}, {natural, whisk}}},
			"the orders go round in a circle, so that none of these can ever be danced: Whisk before Natural Turn before Whisk"},
		{"a circle of three", Limits{Orders: []Order{{change, whisk}, {natural, reverse}, {reverse, change}, {change, natural}}},
			"Natural Turn before Reverse Turn before Left Foot Closed Change before Natural Turn"},
		{"nothing before the first bar", Limits{Orders: []Order{{natural, whisk}}, Fixed: []Fixed{{whisk, 1, -1}}},
			"Whisk cannot begin at bar 1: what is to be danced before it takes 1 bar at least (Natural Turn)"},
		{"two that do not go before", Limits{Orders: []Order{{reverse, natural}, {natural, whisk}}, Fixed: []Fixed{{whisk, 2, -1}}},
			"Whisk cannot begin at bar 2: what is to be danced before it takes 2 bars at least (Reverse Turn, Natural Turn)"},
		{"no room beside what is fixed", Limits{Orders: []Order{{natural, whisk}}, Fixed: []Fixed{{whisk, 2, -1}, {change, 1, -1}}},
			"Whisk cannot begin at bar 2: what is to be danced before it takes 2 bars at least (Left Foot Closed Change, Natural Turn)"},
		{"fixed in the wrong order", Limits{Orders: []Order{{natural, whisk}}, Fixed: []Fixed{{whisk, 5, -1}, {natural, 9, -1}}, Uses: 1},
			"Natural Turn is to begin at bar 9 and, for the order, once before, and no figure may be danced more than 1 time"},

		// Fixed figures.
		{"bar 0", Limits{Fixed: []Fixed{{whisk, 0, -1}}}, "Whisk cannot begin at bar 0: bars are counted from 1"},
		{"after the last bar", Limits{MaxBars: 20, Fixed: []Fixed{{whisk, 21, -1}}}, "Whisk cannot begin at bar 21: it takes 1 bar, and at most 20 bars are asked for"},
		{"not over at the last bar", Limits{MaxBars: 20, Fixed: []Fixed{{f("Basic Weave"), 20, -1}}}, "Basic Weave cannot begin at bar 20: it takes 2 bars"},
		{"far away", Limits{Fixed: []Fixed{{whisk, 1000000, -1}}}, "Whisk cannot begin at bar 1000000: it takes 1 bar, and at most 400 bars can be had"},
		{"the last number", Limits{Fixed: []Fixed{{whisk, math.MaxInt, -1}}}, "at most 400 bars can be had"},
		{"two at one bar", Limits{Fixed: []Fixed{{whisk, 3, -1}, {change, 3, -1}}}, "Whisk and Left Foot Closed Change cannot both begin at bar 3"},
		{"one over the other", Limits{Fixed: []Fixed{{change, 4, -1}, {f("Basic Weave"), 3, -1}}},
			"Basic Weave begins at bar 3 and takes 2 bars, so Left Foot Closed Change cannot begin at bar 4"},
		{"no such wall", Limits{Fixed: []Fixed{{whisk, 3, 4}}}, "Whisk cannot be danced along wall 5: the walls are numbered from 1 to 4"},
		{"two walls at once", Limits{Fixed: []Fixed{{whisk, 3, 1}, {whisk, 3, -1}, {whisk, 3, 2}}}, "Whisk is to begin at bar 3 along"},
		{"a wall that is behind", Limits{Fixed: []Fixed{{whisk, 9, 1}, {change, 3, 2}}},
			"Whisk cannot begin at bar 9 along the orchestra end: Left Foot Closed Change is to begin at bar 3 along the garden side"},
		{"too soon again", Limits{Apart: 8, Fixed: []Fixed{{whisk, 3, -1}, {change, 5, -1}, {whisk, 10, -1}}},
			"Whisk is to begin at bars 3 and 10, 7 bars apart; at least 8 are asked for"},

		// Uses and caps.
		{"more uses than allowed", Limits{Uses: 1, Fixed: []Fixed{{whisk, 3, -1}, {whisk, 10, -1}}},
			"Whisk is to begin at bars 3, 10, and no figure may be danced more than 1 time"},
		{"must and must not", Limits{Must: []*figures.Figure{whisk}, Caps: []Cap{only(whisk, 0)}},
			"at most 0 uses of Whisk may be danced, and 1 cannot be done without: Whisk"},
		{"fixed and must not", Limits{Fixed: []Fixed{{whisk, 3, -1}}, Caps: []Cap{only(whisk, 0)}}, "at most 0 uses of Whisk"},
		{"a cap below the musts", Limits{Must: []*figures.Figure{reverse, whisk, f("Double Reverse Spin")}, Caps: []Cap{left(1)}},
			"at most 1 use of turns to the left may be danced, and 2 cannot be done without: Reverse Turn, Double Reverse Spin"},
		{"a cap below an order's", Limits{Must: []*figures.Figure{whisk}, Orders: []Order{{reverse, whisk}}, Caps: []Cap{left(0)}},
			"at most 0 uses of turns to the left may be danced, and 1 cannot be done without: Reverse Turn"},
		{"caps on everything", Limits{Caps: []Cap{left(0), {"the rest", func(v *figures.Variant) bool { return !v.TurnsLeft() }, 0}}},
			"no figures are left to dance: the caps of 0 take away all of them"},

		// Different figures.
		{"more than there are", Limits{Different: all + 1}, "different figures are asked for, and only"},
		{"more than a cap leaves", Limits{Different: all, Caps: []Cap{left(1)}}, "outside turns to the left, and 1 of them at most"},
		{"more than the bars hold", Limits{Different: 8, MaxBars: 7}, "8 different figures, with all that have to be danced, take 8 bars at least; at most 7 bars are asked for"},
		{"more musts than the bars hold", Limits{Must: []*figures.Figure{whisk, change, natural}, MaxBars: 2}, "the figures that have to be danced take 3 bars at least; at most 2 bars are asked for"},
		{"more with the musts", Limits{Must: []*figures.Figure{f("Basic Weave")}, Different: 4, MaxBars: 4}, "4 different figures, with all that have to be danced, take 5 bars at least"},

		// Phrases.
		{"no phrase in the range", Limits{MinBars: 25, MaxBars: 31, Phrase: 8}, "no phrase of 8 bars ends within 25 to 31 bars: they end after bars 24 and 32"},
		{"no phrase at the bar", Limits{MinBars: 25, MaxBars: 25, Phrase: 8}, "no phrase of 8 bars ends within 25 bars: they end after bars 24 and 32"},
		{"shorter than a phrase", Limits{MaxBars: 7, Phrase: 8}, "no phrase of 8 bars ends within 1 to 7 bars: the first ends after bar 8"},
		{"an endless phrase", Limits{Phrase: 1000}, "no phrase of 1000 bars ends within 1 to 400 bars"},

		// Steps.
		{"a must that is too hard", Limits{Must: []*figures.Figure{natural}, Hardest: 1}, "Natural Turn must be danced, and cannot be: the hardest figure may have 1 points a bar, and the easiest of them has 1.50"},
		{"a leader in a tight skirt", Limits{LeaderStep: 0.1}, "no figure can be danced: the leader's longest step may be 0.1 m, and is "},
		{"a follower in a tight skirt", Limits{FollowerStep: 0.1}, "no figure can be danced: the follower's longest step may be 0.1 m, and is "},
		{"a must with long steps", Limits{Must: []*figures.Figure{natural}, FollowerStep: 0.5}, "Natural Turn must be danced, and cannot be: the follower's longest step may be 0.5 m, and is "},
		{"long steps that an order needs", Limits{Must: []*figures.Figure{chasse}, Orders: []Order{{natural, chasse}}, FollowerStep: 0.5}, "cannot be: the follower's longest step"},
	} {
		p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
		p.Variants = append(p.Variants, f("Double Reverse Spin").Variants...)
		if c.name == "more than there are" || c.name == "more than a cap leaves" {
			p.Variants = atLevel(figures.Bronze)
		}
		p.Limits = c.limits
		if _, err := p.settled(); err == nil || !strings.Contains(err.Error(), c.words) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v, want %q", c.name, err, c.words)
		}
	}
}

// eachOnce is how many bars some figures fill when each of them is danced once, in its
// longest way.
func eachOnce(variants []*figures.Variant) (bars int) {
	longest := map[*figures.Figure]int{}
	for _, v := range variants {
		longest[v.Figure] = max(longest[v.Figure], v.Bars())
	}
	for _, n := range longest {
		bars += n
	}
	return bars
}

// TestSensibleLimits: limits that are near to making no sense, and do make some.
func TestSensibleLimits(t *testing.T) {
	f := func(name string) *figures.Figure { return figure(t, name) }
	natural, whisk, change := f("Natural Turn"), f("Whisk"), f("Left Foot Closed Change")
	once := eachOnce(atLevel(figures.Bronze))
	for _, c := range []struct {
		name   string
		limits Limits
	}{
		{"none", Limits{}},
		{"as many bars as single uses fill", Limits{MinBars: once, MaxBars: once, Uses: 1}},
		{"as many bars as uses far apart fill", Limits{MinBars: once + 1, MaxBars: once + 2, Apart: once + 1}},
		{"the greatest numbers", Limits{Uses: math.MaxInt, Apart: math.MaxInt, RightTurns: math.MaxInt, Caps: []Cap{{"all", func(*figures.Variant) bool { return true }, math.MaxInt}}}},
		{"most bars", Limits{MinBars: MostBars, MaxBars: MostBars, Phrase: 8}},
		{"a fixed figure that fits exactly", Limits{MaxBars: 20, Fixed: []Fixed{{whisk, 20, -1}, {natural, 18, -1}, {natural, 1, -1}}}},
		{"the same twice", Limits{Fixed: []Fixed{{whisk, 20, -1}, {whisk, 20, 2}}}},
		{"a short way of a long figure", Limits{Fixed: []Fixed{{natural, 3, -1}, {change, 4, -1}}}},
		{"the first wall again at the end", Limits{Fixed: []Fixed{{whisk, 3, 0}, {change, 9, 2}, {natural, 20, 0}}}},
		{"an order that is fixed so", Limits{Orders: []Order{{natural, whisk}}, Fixed: []Fixed{{natural, 1, -1}, {whisk, 2, -1}}}},
		{"an order with a use before", Limits{Orders: []Order{{natural, whisk}}, Fixed: []Fixed{{natural, 9, -1}, {whisk, 5, -1}}}},
		{"an order in a row", Limits{Orders: []Order{{natural, whisk}, {whisk, change}, {natural, change}}}},
		{"a cap with room for the musts", Limits{Must: []*figures.Figure{whisk, whisk}, Caps: []Cap{{"Whisk", func(v *figures.Variant) bool { return v.Figure == whisk }, 1}}}},
		{"a phrase of a bar", Limits{Phrase: 1, MinBars: 25, MaxBars: 25}},
		{"the end of a phrase", Limits{Phrase: 8, MinBars: 25, MaxBars: 32}},
		{"long steps", Limits{LeaderStep: 2, FollowerStep: 2}},
		{"hard figures", Limits{Hardest: 20}},
	} {
		p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
		p.Limits = c.limits
		if _, err := p.settled(); err != nil {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestNamedSteps: the step that is named as the shortest can be asked for, and one
// that is a centimetre shorter cannot.
func TestNamedSteps(t *testing.T) {
	for who := figures.Leader; who <= figures.Follower; who++ {
		p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
		asked := func(metres float64) error {
			*[]*float64{&p.Limits.LeaderStep, &p.Limits.FollowerStep}[who] = metres
			_, err := p.settled()
			return err
		}
		centimetres := 1
		for ; asked(float64(centimetres)/100) != nil; centimetres++ {
			if centimetres > 200 {
				t.Fatal("no step can be asked for")
			}
		}
		err := asked(float64(centimetres-1) / 100)
		least := float64(centimetres) / 100
		if want := "and is " + fmt.Sprintf("%.2f", least) + " m at the least"; err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", who, err, want)
		}
	}
}

// TestLaps: how many laps and bars can be had.
func TestLaps(t *testing.T) {
	for _, c := range []struct {
		laps, bars int
		words      string // empty where it makes sense
	}{
		{0, 400, ""}, {1, 400, ""}, {2, 800, ""}, {MostLaps, MostLaps * MostBars, ""},
		{-1, 0, "-1 laps are asked for; from 1 to 20 can be had"},
		{MostLaps + 1, 0, "21 laps are asked for"},
		{math.MaxInt, 0, "from 1 to 20 can be had"},
		{0, 401, "a lap of 401 bars is not searched: at most 400 can be had"},
		{2, 801, "a routine of 801 bars is not searched: at most 800 can be had, 400 for each of 2 laps"},
	} {
		p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
		p.Laps, p.Limits.MaxBars = c.laps, c.bars
		if _, err := p.settled(); (err == nil) != (c.words == "") || err != nil && !strings.Contains(err.Error(), c.words) {
			t.Errorf("%d laps of %d bars: %v, want %q", c.laps, c.bars, err, c.words)
		}
	}
	// In two laps the couple comes by a wall again.
	p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
	p.Start = &routine.Start{Wall: 1, Stance: stance(t, "DW, RF")}
	whisk := figure(t, "Whisk")
	for _, c := range []struct {
		laps  int
		walls []int
		sense bool
	}{
		{1, []int{1, 2, 3, 0, 1}, true}, {1, []int{0, 2}, false}, {2, []int{0, 2}, true}, {1, []int{1, 0, 1}, true},
		{2, []int{0, 2, 1}, true}, {2, []int{0, 3, 2}, false}, {2, []int{1, 0, 3, 1}, true}, {2, []int{3, 1, 3, 1, 1}, true}, {2, []int{3, 1, 3, 1, 2}, false},
	} {
		p.Laps, p.Limits.Fixed = c.laps, nil
		for i, wall := range c.walls {
			p.Limits.Fixed = append(p.Limits.Fixed, Fixed{whisk, 1 + 4*i, wall})
		}
		if _, err := p.settled(); (err == nil) != c.sense {
			t.Errorf("%d laps along walls %v: %v", c.laps, c.walls, err)
		}
	}
}

// TestLimitsAreNotChanged: what a problem asks for stays as it was.
func TestLimitsAreNotChanged(t *testing.T) {
	p := problem(named(t, "ballroom"), atLevel(figures.Bronze))
	whisk := figure(t, "Whisk")
	p.Limits = Limits{Caps: []Cap{{"all", func(*figures.Variant) bool { return true }, math.MaxInt}}, Fixed: []Fixed{{whisk, 9, -1}, {whisk, 3, -1}}}
	own, err := p.settled()
	if err != nil {
		t.Fatal(err)
	}
	if p.Limits.Caps[0].Most != math.MaxInt || p.Limits.Fixed[0].Bar != 9 || own.Limits.Caps[0].Most != 2*MostBars {
		t.Errorf("the limits have become %+v", p.Limits)
	}
}
