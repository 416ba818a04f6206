package figures

import (
	"math"
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"

	"lapwright/figures/geometry"
)

// drawDanced dances any variant of the library from any of its entries with any
// stride that the program offers.
func drawDanced(t *rapid.T) *Danced {
	v := rapid.SampledFrom(BuiltIn().Variants()).Draw(t, "variant")
	entry := rapid.SampledFrom(v.Entries).Draw(t, "entry")
	stride := rapid.Float64Range(0.35, 0.8).Draw(t, "stride")
	t.Logf("%s from %v", v.Name(), entry)
	return v.Dance(entry, DefaultCouple().WithStride(stride))
}

func TestDanceEndsInTheExitStance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		last := d.Last()
		h, exact := HeadingOf(last.Front)
		got := Stance{h, last.Weight[Leader].Other(), last.Hold}
		if want := d.Variant.Exit(d.Entry); got != want || d.Exit != want || !exact {
			t.Fatalf("ends %v, Exit says %v", got, want)
		}
		if last.Weight[Leader] != last.Weight[Follower].Other() {
			t.Fatalf("both stand on the %v", last.Weight[Leader])
		}
		if last.Centre != d.Displacement {
			t.Fatalf("ends at %v, Displacement says %v", last.Centre, d.Displacement)
		}
		if last.Time != d.Variant.Beats() {
			t.Fatalf("ends on beat %v of %v", last.Time, d.Variant.Beats())
		}
	})
}

func TestFeetAlternate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		free := [2]Foot{d.Entry.Free, d.Entry.Free.Other()}
		for i, s := range d.Steps {
			for who := Leader; who <= Follower; who++ {
				a := s.Step.Actions[who]
				if a.Foot == NoFoot {
					continue
				}
				if a.Foot != free[who] {
					t.Fatalf("step %d: the %v steps with the %v", i+1, who, a.Foot)
				}
				if !a.Weightless {
					free[who] = a.Foot.Other()
				}
				if s.After.Weight[who] != free[who].Other() {
					t.Fatalf("step %d: the %v stands on the %v", i+1, who, s.After.Weight[who])
				}
			}
		}
	})
}

func TestNoFaultsWithAnyStride(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		if faults := d.Variant.Faults(d.Couple); len(faults) > 0 {
			t.Fatalf("%v", faults)
		}
	})
}

// The displacement of a variant is that of its first entry, turned with the
// alignment, whichever hold the couple begins in.
func TestDisplacementTurnsWithTheEntry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		other := rapid.SampledFrom(d.Variant.Entries).Draw(t, "other entry")
		e := d.Variant.Dance(other, d.Couple)
		angle := (other.Facing.Turn() - d.Entry.Facing.Turn()).Radians()
		if want := d.Displacement.Rotate(angle); e.Displacement.Sub(want).Len() > 1e-9 {
			t.Fatalf("from %v the couple ends at %v, want %v", other, e.Displacement, want)
		}
		for i := range d.Steps {
			for who := Leader; who <= Follower; who++ {
				if e.Steps[i].Falls[who].Word != d.Steps[i].Falls[who].Word && d.Entry.Hold == other.Hold {
					t.Fatalf("step %d is %q for the %v, and %q from %v", i+1, d.Steps[i].Falls[who].Word, who,
						e.Steps[i].Falls[who].Word, other)
				}
			}
		}
	})
}

// The words of a figure are the same for couples with a short and a long stride.
func TestWordsDoNotDependOnTheStride(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		usual := d.Variant.Dance(d.Entry, DefaultCouple())
		for i := range d.Steps {
			for who := Leader; who <= Follower; who++ {
				got, want := d.Steps[i].Falls[who], usual.Steps[i].Falls[who]
				if got.Word != want.Word || got.Alignment != want.Alignment || got.Turn != want.Turn {
					t.Fatalf("step %d of the %v: %v with this stride, %v with the usual one", i+1, who, got, want)
				}
			}
		}
	})
}

func samePoint(a, b geometry.Point) bool { return a.Sub(b).Len() < 1e-9 }

func TestPosesEndWithTheStep(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		n := rapid.IntRange(1, 20).Draw(t, "instants")
		for i, s := range d.Steps {
			poses := d.Poses(i, n)
			if len(poses) != n {
				t.Fatalf("%d poses, want %d", len(poses), n)
			}
			last, after := poses[n-1], s.After
			if !samePoint(last.Centre, after.Centre) || !samePoint(last.Bodies[Leader], after.Bodies[Leader].At) ||
				!samePoint(last.Bodies[Follower], after.Bodies[Follower].At) ||
				math.Abs(last.Front-after.Front.Radians()) > 1e-9 {
				t.Fatalf("step %d: the last pose is %v, the moment after it %v", i+1, last, after)
			}
		}
		if got := d.Poses(0, 0); got != nil {
			t.Fatalf("no instants give %v", got)
		}
	})
}

// Between the steps the bodies stay apart and between the places that the two
// holds give.
func TestPosesKeepTheHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		from := d.Start.Hold
		for i, s := range d.Steps {
			a, b := from.Shape(), s.After.Hold.Shape()
			from = s.After.Hold
			for k, p := range d.Poses(i, 12) {
				apart := p.Bodies[Follower].Sub(p.Bodies[Leader])
				if apart.Len() < 0.2 {
					t.Fatalf("step %d, instant %d: the bodies are %.2f m apart", i+1, k, apart.Len())
				}
				at := apart.Rotate(-p.Front)
				if out := geometry.PointGap(at, a.Follower, b.Follower); out > math.Max(a.Tolerance, b.Tolerance) {
					t.Fatalf("step %d, instant %d: the follower is %.2f m out of the hold", i+1, k, out)
				}
			}
		}
	})
}

// No pose is far from the one before it: nobody jumps.
func TestPosesAreSmooth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		const n = 60
		last := d.Start.pose()
		for i := range d.Steps {
			for k, p := range d.Poses(i, n) {
				for who := Leader; who <= Follower; who++ {
					if far := p.Bodies[who].Sub(last.Bodies[who]).Len(); far > 0.1 {
						t.Fatalf("step %d, instant %d: the %v moves %.2f m at once", i+1, k, who, far)
					}
					if turned := math.Abs(math.Remainder(p.Fronts[who]-last.Fronts[who], 2*math.Pi)); turned > 0.15 {
						t.Fatalf("step %d, instant %d: the %v turns %.2f at once", i+1, k, who, turned)
					}
				}
				last = p
			}
		}
	})
}

func TestSweepHoldsFeetAndBodies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		discs := d.Sweep()
		within := func(p geometry.Point, radius float64, what string) {
			for _, disc := range discs {
				if disc.Centre.Sub(p).Len()+radius <= disc.Radius+1e-9 {
					return
				}
			}
			t.Fatalf("the sweep does not hold %s at %v", what, p)
		}
		moment := func(m *Moment) {
			for who := Leader; who <= Follower; who++ {
				within(m.Bodies[who].At, 0, who.String()+"'s body")
				for f := LeftFoot; f <= RightFoot; f++ {
					within(m.Foot(who, f).At, d.Couple.Sole[who].Length/2, who.String()+"'s "+f.String())
				}
			}
		}
		moment(&d.Start)
		for i := range d.Steps {
			moment(&d.Steps[i].Placed)
			moment(&d.Steps[i].After)
		}
		for _, disc := range discs {
			if !(disc.Radius > 0) || math.IsNaN(disc.Centre.X+disc.Centre.Y) {
				t.Fatalf("%v is no disc", disc)
			}
		}
	})
}

// As the couple turns about its centre, the dancer on the side to which it turns
// has the shorter way.
func TestInnerDancerTravelsLess(t *testing.T) {
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		d := drawDanced(t)
		from := &d.Start
		for i := range d.Steps {
			s := &d.Steps[i]
			steady := s.Placed.Hold == from.Hold && s.Step.Turn != 0 && s.Step.Strides > 0
			for who := Leader; who <= Follower; who++ {
				a := s.Step.Actions[who]
				steady = steady && !a.HeelTurn && a.Shift == geometry.Point{}
			}
			steady = steady && s.Placed.stretch() < 1e-9 && from.stretch() < 1e-9
			if steady {
				travel := s.Placed.Centre.Sub(from.Centre)
				middle := s.Placed.Bodies[Leader].At.Sub(s.Placed.Centre).Add(from.Bodies[Leader].At.Sub(from.Centre))
				side := travel.Cross(middle) // positive with the leader on the left
				if math.Abs(side) > 1e-9 {
					compared++
					inner := Leader
					if (side > 0) != (s.Step.Turn > 0) {
						inner = Follower
					}
					if in, out := s.Falls[inner].Travel, s.Falls[inner.Other()].Travel; in >= out {
						t.Fatalf("step %d: the %v is on the inside, yet travels %.3f m against %.3f m", i+1, inner, in, out)
					}
				}
			}
			from = &s.After
		}
	})
	if compared == 0 {
		t.Error("no step has been compared")
	}
}

func drawHeading(t *rapid.T) Heading {
	return Heading(rapid.IntRange(0, Headings-1).Draw(t, "heading"))
}

func TestHeadingsReadAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := drawHeading(t)
		for _, s := range []string{h.String(), h.Short(), strings.ToUpper(h.String()), " " + strings.ToLower(h.Short())} {
			if got, err := ParseHeading(s); err != nil || got != h {
				t.Fatalf("%q reads as %v, %v", s, got, err)
			}
		}
		n := rapid.IntRange(-1000, 1000).Draw(t, "eighths")
		if got := h.Add(n).Add(-n); got != h {
			t.Fatalf("%v turned %d and back is %v", h, n, got)
		}
		if got, exact := HeadingOf(h.Turn() + geometry.Turn(16*n)); got != h || !exact {
			t.Fatalf("HeadingOf(%v) is %v", h.Turn(), got)
		}
	})
}

func TestAlignmentsReadAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := Alignment{Way(rapid.IntRange(0, 2).Draw(t, "way")), drawHeading(t)}
		for _, s := range []string{a.String(), a.Short(), strings.ToUpper(a.Short())} {
			if got, err := ParseAlignment(s); err != nil || got != a {
				t.Fatalf("%q reads as %v, %v", s, got, err)
			}
		}
		if got, err := ParseAlignment(a.Heading.Short()); err != nil || got != (Alignment{Facing, a.Heading}) {
			t.Fatalf("%q reads as %v, %v", a.Heading.Short(), got, err)
		}
	})
}

func TestStancesReadAsWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Stance{drawHeading(t), rapid.SampledFrom([]Foot{LeftFoot, RightFoot}).Draw(t, "foot"),
			Hold(rapid.IntRange(0, Holds-1).Draw(t, "hold"))}
		short := s.Facing.Short() + "," + s.Free.Short() + "," + s.Hold.String()
		for _, text := range []string{s.String(), short, strings.ToUpper(s.String())} {
			if got, err := ParseStance(text); err != nil || got != s {
				t.Fatalf("%q reads as %v, %v", text, got, err)
			}
		}
		n := rapid.IntRange(-20, 20).Draw(t, "eighths")
		if s.Turned(n).Turned(-n) != s {
			t.Fatalf("%v turned %d and back is %v", s, n, s.Turned(n).Turned(-n))
		}
	})
}

func TestNameKeyFoldsWhatReadersOverlook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringOf(rapid.RuneFrom(nil, unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Digit)).Draw(t, "name")
		key := NameKey(name)
		if again := NameKey(key); again != key {
			t.Fatalf("the key %q has the key %q", key, again)
		}
		var spaced strings.Builder
		for _, r := range name {
			spaced.WriteString(string(r) + rapid.SampledFrom([]string{"", " ", "-", "'", "–"}).Draw(t, "between"))
		}
		for _, same := range []string{spaced.String(), norm.NFC.String(name), norm.NFD.String(name)} {
			if NameKey(same) != key {
				t.Fatalf("%q has the key %q, %q has %q", same, NameKey(same), name, key)
			}
		}
	})
}

func TestEditDistanceIsAMetric(t *testing.T) {
	word := rapid.StringOfN(rapid.SampledFrom([]rune("abé")), 0, 8, -1)
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := word.Draw(t, "a"), word.Draw(t, "b"), word.Draw(t, "c")
		ab := editDistance(a, b)
		if (ab == 0) != (a == b) || ab != editDistance(b, a) || ab > editDistance(a, c)+editDistance(c, b) {
			t.Fatalf("from %q to %q it is %d, back %d, by way of %q %d and %d", a, b, ab, editDistance(b, a), c,
				editDistance(a, c), editDistance(c, b))
		}
		if most := max(len([]rune(a)), len([]rune(b))); ab > most {
			t.Fatalf("from %q to %q it is %d", a, b, ab)
		}
	})
}

// Outermost drops only discs that others hold.
func TestOutermostLosesNoFloor(t *testing.T) {
	disc := rapid.Custom(func(t *rapid.T) geometry.Disc {
		at := rapid.Float64Range(-1, 1)
		return geometry.Disc{Centre: geometry.Point{X: at.Draw(t, "x"), Y: at.Draw(t, "y")},
			Radius: rapid.SampledFrom([]float64{0.1, 0.3, 0.3, 1}).Draw(t, "radius")}
	})
	rapid.Check(t, func(t *rapid.T) {
		discs := rapid.SliceOf(disc).Draw(t, "discs")
		if len(discs) > 0 {
			discs = append(discs, discs[0])
		}
		kept := outermost(slices.Clone(discs))
		for _, d := range discs {
			if !slices.ContainsFunc(kept, func(k geometry.Disc) bool {
				return k.Centre.Sub(d.Centre).Len()+d.Radius <= k.Radius+1e-12
			}) {
				t.Fatalf("%v is lost", d)
			}
		}
	})
}
