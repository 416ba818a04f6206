package figures

import (
	"slices"
	"testing"
)

// Facts of the trade about figures alone. Common practice, no source, unless one
// is named.

// TestLeftTurnsNeverBeginDiagonalToWall: a turn to the left begins towards the
// centre; from diagonal to wall on the left foot it would go into the wall.
// Twinkles, and figures that open to promenade first, go along the line of dance
// before they turn; at a corner the next wall's line of dance is taken after the
// turn, so a way that is danced only there may (Ballroom Guide, Bronze Waltz
// routine: the whisk).
func TestLeftTurnsNeverBeginDiagonalToWall(t *testing.T) {
	left := 0
	for _, v := range BuiltIn().Variants() {
		opens := slices.ContainsFunc(v.Steps, func(s Step) bool { return s.Hold == Promenade })
		if v.Turn() <= 0 || v.Corner || opens {
			continue
		}
		left++
		for _, e := range v.Entries {
			if e.Facing == DiagonalToWall && e.Free == LeftFoot && (e.Hold == Closed || e.Hold == OutsidePartner) {
				t.Errorf("%s turns %v, yet begins %v", v.Name(), v.Turn(), e)
			}
		}
	}
	if left < 10 {
		t.Errorf("only %d variants turn left", left)
	}
}

// TestReverseTurnCannotFollowItself: it ends diagonal to wall with the left foot
// free (Magic Dance World, Reverse Turn) and begins diagonal to centre, so a
// closed change or a figure to promenade comes between.
func TestReverseTurnCannotFollowItself(t *testing.T) {
	v := variant(t, "Reverse Turn")
	end := v.Exit(v.Entries[0])
	if end != (Stance{DiagonalToWall, LeftFoot, Closed}) {
		t.Errorf("ends %v", end)
	}
	for _, w := range v.Figure.Variants {
		if slices.Contains(w.Entries, end) {
			t.Errorf("%s can begin %v, where the reverse turn ends", w.Name(), end)
		}
	}
	for _, next := range []string{"Left Foot Closed Change", "Whisk", "Progressive Twinkle to Promenade"} {
		if !slices.Contains(variant(t, next).Entries, end) {
			t.Errorf("%s cannot begin %v", next, end)
		}
	}
}

// TestChainOfTheSocialFloor: each figure enters as the last one left, and the
// last one leaves the couple where the first began.
func TestChainOfTheSocialFloor(t *testing.T) {
	chain := []string{
		"Progressive Twinkle to Promenade", "Promenade Natural Turn", "Heel Turn to Promenade",
		"Promenade Link", "Reverse Turn", "Progressive Twinkle to Promenade",
	}
	at := variant(t, chain[0]).Entries[0]
	for _, name := range chain {
		v := variant(t, name)
		if !slices.Contains(v.Entries, at) {
			t.Fatalf("%s cannot begin %v; it begins %v", name, at, v.Entries)
		}
		at = v.Exit(at)
	}
}

// TestLinkFreesTheLeftFootDiagonalToCentre: that is what a left turn needs.
func TestLinkFreesTheLeftFootDiagonalToCentre(t *testing.T) {
	v := variant(t, "Promenade Link")
	if end := v.Exit(v.Entries[0]); end != (Stance{DiagonalToCentre, LeftFoot, Closed}) {
		t.Errorf("the link ends %v", end)
	}
}

// TestCornersFallOutOfTheGeometry: at a right-angled corner the next wall's line
// of dance is taken, which takes 2 eighths from the heading (the same corner:
// Ballroom Guide, Beginner Waltz routine). What a figure leaves then fits what
// comes next.
func TestCornersFallOutOfTheGeometry(t *testing.T) {
	for _, row := range []struct {
		variant string
		then    string // the stance on the next wall's line of dance
		next    string // a figure that it fits
	}{
		{"Natural Turn", "DW, RF", "Natural Turn"},
		{"Natural Turn (4-6)", "DW, RF", "Natural Turn"},
		{"Natural Turn (half turn at a corner)", "DC, RF", "Right Foot Closed Change"},
		{"Natural Turn (underturned at a corner)", "DC, RF", "Right Foot Closed Change"},
		{"Continuous Natural Turn (back half)", "DW, RF", "Natural Turn"},
		{"Hesitation Change", "DW, LF", "Left Foot Closed Change"},
		{"Hesitation Change (at a corner)", "LOD, LF", "Left Box"},
		{"Natural Spin Turn (at a corner)", "backing DC, RF", "Reverse Turn (4-6 from backing diagonal to centre)"},
		{"Right Foot Closed Change", "DW, LF", "Whisk"},
		{"Closed Impetus", "backing DC, RF", "Reverse Turn (4-6 from backing diagonal to centre)"},
		{"Promenade Link", "DW, LF", "Progressive Twinkle to Promenade"},
	} {
		v := variant(t, row.variant)
		then := v.Exit(v.Entries[0]).Turned(-2)
		if then != stance(t, row.then) {
			t.Errorf("%s leaves the couple %v on the next wall, want %s", row.variant, then, row.then)
		}
		if !slices.Contains(variant(t, row.next).Entries, then) {
			t.Errorf("%s cannot begin %v after %s at a corner", row.next, then, row.variant)
		}
	}
}

// TestClosedFiguresKeepPartnersFacing: in closed hold the follower's heading is
// the leader's and half a turn, after every step (BallroomDancers.com, closed
// position); in promenade her feet are 1/4 from that (LBDC alignment FAQ).
func TestClosedFiguresKeepPartnersFacing(t *testing.T) {
	for _, v := range BuiltIn().Variants() {
		for i, s := range v.Dance(v.Entries[0], DefaultCouple()).Steps {
			m := s.After
			apart := (m.Bodies[Follower].Front - m.Bodies[Leader].Front).Within().Abs()
			want := 8
			switch m.Hold {
			case Promenade, CounterPromenade, Fallaway:
				want = 4
			}
			if int(apart) != want {
				t.Errorf("%s, step %d: in %s the partners face %v apart", v.Name(), i+1, m.Hold, apart)
			}
		}
	}
}
