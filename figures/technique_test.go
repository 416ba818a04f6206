package figures

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// techniqueRule is a rule of the trade for one dancer's part of a step; breaks
// says how it is broken, or is empty.
type techniqueRule struct {
	name, source string
	// syllabus tells that the rule is for the figures of a syllabus only: social
	// figures have no sway and contra body movement in the library.
	syllabus bool
	breaks   func(d *Danced, step int, who Dancer) string
}

var techniqueRules = []techniqueRule{
	{"footwork", "common practice, no source", false, func(d *Danced, i int, who Dancer) string {
		if d.Steps[i].Step.Actions[who].Footwork == "" {
			return "has no footwork"
		}
		return ""
	}},
	{"letters of footwork", "common practice, no source", false, func(d *Danced, i int, who Dancer) string {
		known := []string{"H", "T", "HT", "TH", "THT", "IE", "IE W"}
		if f := d.Steps[i].Step.Actions[who].Footwork; !slices.Contains(known, f) {
			return "has footwork " + f
		}
		return ""
	}},
	{"heel leads go forward", "Magic Dance World, natural spin turn and reverse turn charts: HT on the steps forward, TH, THT and T on those back", false,
		func(d *Danced, i int, who Dancer) string {
			a, fall := d.Steps[i].Step.Actions[who], d.Steps[i].Falls[who]
			if strings.HasPrefix(a.Footwork, "H") && fall.way != movesForward && !a.HeelTurn {
				return fmt.Sprintf("leads with the heel (%s) on a step %s", a.Footwork, fall.Word)
			}
			return ""
		}},
	{"a heel turn is HT", "Wikipedia, Impetus; Wikipedia, Telemark (waltz); Wikipedia, Double reverse spin", false, func(d *Danced, i int, who Dancer) string {
		if a := d.Steps[i].Step.Actions[who]; a.HeelTurn && a.Footwork != "HT" {
			return "makes a heel turn with footwork " + a.Footwork
		}
		return ""
	}},
	{"the step back before a heel turn is TH", "Wikipedia, Impetus; Wikipedia, Telemark (waltz); Wikipedia, Double reverse spin", false, func(d *Danced, i int, who Dancer) string {
		if i+1 == len(d.Steps) || !d.Steps[i+1].Step.Actions[who].HeelTurn {
			return ""
		}
		if a, fall := d.Steps[i].Step.Actions[who], d.Steps[i].Falls[who]; fall.way != movesBack || a.Footwork != "TH" {
			return fmt.Sprintf("has %s on a step %s", a.Footwork, fall.Word)
		}
		return ""
	}},
	{"a pivot back is THT, its partner's step HT", "Magic Dance World, natural spin turn chart", true, func(d *Danced, i int, who Dancer) string {
		s, fall := d.Steps[i].Step, d.Steps[i].Falls[who]
		if s.Pivot.Abs() < 6 || s.Actions[who].Footwork == "" {
			return ""
		}
		want := "HT"
		if fall.way == movesBack {
			want = "THT"
		}
		if got := s.Actions[who].Footwork; got != want {
			return fmt.Sprintf("pivots with footwork %s on a step %s", got, fall.Word)
		}
		return ""
	}},
	{"who lowers has the heel down", "Magic Dance World, natural spin turn and reverse turn charts: TH on 3 and 6, where the dancers lower", false,
		func(d *Danced, i int, who Dancer) string {
			a := d.Steps[i].Step.Actions[who]
			if a.Rise.Lowers() && !a.Weightless && !strings.HasSuffix(a.Footwork, "H") {
				return fmt.Sprintf("lowers at the end of a step with footwork %s", a.Footwork)
			}
			return ""
		}},
	{"who is up has the heel off the floor", "common practice, no source", false, func(d *Danced, i int, who Dancer) string {
		a := d.Steps[i].Step.Actions[who]
		up := a.Rise == Up || a.Rise == ContinueToRise || a.Rise == CommenceToRiseAtEnd || a.Rise == CommenceToRise || a.Rise == RiseAtEnd
		if up && !strings.HasSuffix(a.Footwork, "T") {
			return fmt.Sprintf("is told to %s on a step with footwork %s", a.Rise, a.Footwork)
		}
		return ""
	}},
	{"no foot rise on a flat foot", "Magic Dance World, reverse turn chart: no foot rise on 1 for her, on 4 for him", false, func(d *Danced, i int, who Dancer) string {
		a := d.Steps[i].Step.Actions[who]
		if a.Rise.NoFootRise() && !strings.HasSuffix(a.Footwork, "H") {
			return fmt.Sprintf("has no foot rise on a step with footwork %s", a.Footwork)
		}
		return ""
	}},
	{"sways mirror each other", "Magic Dance World, natural spin turn and reverse turn charts: right for him is left for her", true, func(d *Danced, i int, who Dancer) string {
		s := d.Steps[i].Step
		mirror := map[string]string{"": "", "straight": "straight", "left": "right", "right": "left"}
		if s.Actions[who].Sway != mirror[s.Actions[who.Other()].Sway] {
			return fmt.Sprintf("sways %s against the partner's %s", s.Actions[who].Sway, s.Actions[who.Other()].Sway)
		}
		return ""
	}},
	{"no sway in contra body movement", "common practice, no source", true, func(d *Danced, i int, who Dancer) string {
		if a := d.Steps[i].Step.Actions[who]; a.CBM && a.Sway != "" && a.Sway != "straight" {
			return "sways " + a.Sway + " on a step in contra body movement"
		}
		return ""
	}},
	{"sway is away from the foot that goes to the side", "Magic Dance World, natural spin turn and reverse turn charts; DanceCentral, waltz whisk", true,
		func(d *Danced, i int, who Dancer) string {
			s, fall := d.Steps[i].Step.Actions[who], d.Steps[i].Falls[who]
			if fall.way == movesSide && s.Crosses == NoCross && (s.Sway == "left" && fall.Foot == LeftFoot || s.Sway == "right" && fall.Foot == RightFoot) {
				return fmt.Sprintf("sways %s on the %s to the side", s.Sway, fall.Foot)
			}
			return ""
		}},
	{"contra body movement is on a step forward or back", "Magic Dance World, natural spin turn chart: on 1", true, func(d *Danced, i int, who Dancer) string {
		if fall := d.Steps[i].Falls[who]; d.Steps[i].Step.Actions[who].CBM && fall.way != movesForward && fall.way != movesBack {
			return "has contra body movement on a step " + fall.Word
		}
		return ""
	}},
	{"a step forward or back that begins a turn is in contra body movement", "common practice, no source", true, func(d *Danced, i int, who Dancer) string {
		s, fall := d.Steps[i].Step, d.Steps[i].Falls[who]
		begins := s.Pivot != 0 || i+1 < len(d.Steps) && d.Steps[i+1].Step.Turn != 0
		// As after the pivot of a spin turn, or back in the midst of a fallaway.
		goesOn := i > 0 && (d.Steps[i-1].Step.Pivot != 0 || fall.way == movesBack && d.CBMP(i, who))
		// In promenade it is the one who goes across in front of the other.
		partner := d.CBMP(i, who) && s.Actions[who.Other()].CBM
		if begins && !goesOn && !partner && s.Turn == 0 && (fall.way == movesForward || fall.way == movesBack) && !s.Actions[who].CBM {
			return "begins a turn without contra body movement on a step " + fall.Word
		}
		return ""
	}},
	{"a step outside partner or across in promenade is in CBMP", "DanceCentral, chasse from promenade position and weave from promenade position; BallroomDancers.com, back twinkle", false,
		func(d *Danced, i int, who Dancer) string {
			hold := d.Start.Hold
			if i > 0 {
				hold = d.Steps[i-1].After.Hold
			}
			fall := d.Steps[i].Falls[who]
			if through, ok := throughFeet[hold]; ok && fall.Foot == through.feet[who] && (fall.way == movesForward || fall.way == movesBack) && !d.CBMP(i, who) {
				return fmt.Sprintf("goes %s with the inside foot in %s, and not in CBMP", fall.Word, hold)
			}
			return ""
		}},
}

// inSyllabus tells whether the figure is in the international syllabus, and not
// on the social floor only.
func inSyllabus(f *Figure) bool { return f.At(International, Gold) }

// techniqueException is where a figure breaks a rule of the trade, with the
// reason.
type techniqueException struct {
	rule, figure string
	dancer       Dancer
	reason       string
}

var techniqueExceptions = []techniqueException{
	{"heel leads go forward", "Reverse Corté", Leader, "the closing foot makes a heel turn without weight; the charts give HT (from memory)"},
	{"the step back before a heel turn is TH", "Quick Closed Natural Telemark", Follower, "from promenade the heel turn follows a step forward and across"},
	{"a pivot back is THT, its partner's step HT", "Fallaway Reverse and Slip Pivot", Follower, "in the slip pivot the foot that goes forward is drawn past the other and taken on the toe (from memory)"},
	{"a pivot back is THT, its partner's step HT", "Outside Spin", Leader, "a small step on which the heel stays down (from memory)"},
	{"a step forward or back that begins a turn is in contra body movement", "Wing", Follower, "the follower walks on round the leader; the turn is that of the whole walk"},
	{"a step outside partner or across in promenade is in CBMP", "Cross-Body Lead", Leader, "out of promenade the leader goes back to let the follower pass, not through"},
	{"a step outside partner or across in promenade is in CBMP", "Cross-Body Lead", Follower, "out of promenade the follower walks past the leader, not through"},
	{"a step outside partner or across in promenade is in CBMP", "Fallaway Natural Turn", Leader, "the hold goes back to closed on the step, so it is the step of a spin turn"},
	{"a step outside partner or across in promenade is in CBMP", "Fallaway Natural Turn", Follower, "the hold goes back to closed on the step, so it is the step of a spin turn"},
	{"a step outside partner or across in promenade is in CBMP", "Fallaway Whisk", Leader, "the hold goes back to closed on the step, so it is the step of a spin turn"},
	{"a step outside partner or across in promenade is in CBMP", "Fallaway Whisk", Follower, "the hold goes back to closed on the step, so it is the step of a spin turn"},
	{"a step outside partner or across in promenade is in CBMP", "Left Whisk", Follower, "the follower walks round the leader, whose crossed feet unwind"},
	{"a step outside partner or across in promenade is in CBMP", "Wing", Follower, "the leader has closed; the follower walks on round"},
}

// TestTechniqueRules applies the rules of the trade to every step of every
// library, danced from the first beginning.
func TestTechniqueRules(t *testing.T) {
	type key struct {
		rule, figure string
		dancer       Dancer
	}
	listed := map[key]bool{} // and whether it was met
	for _, e := range techniqueExceptions {
		if e.reason == "" {
			t.Errorf("%s: the exception to %q has no reason", e.figure, e.rule)
		}
		listed[key{e.rule, e.figure, e.dancer}] = false
	}
	steps, sway, rise := 0, 0, 0
	for _, v := range BuiltIn().Variants() {
		d := v.Dance(v.Entries[0], DefaultCouple())
		for i := range d.Steps {
			for who := Leader; who <= Follower; who++ {
				if d.Steps[i].Falls[who].Foot == NoFoot {
					continue
				}
				steps++
				if d.Steps[i].Step.Actions[who].Sway != "" {
					sway++
				}
				if d.Steps[i].Step.Actions[who].Rise != "" {
					rise++
				}
				for _, rule := range techniqueRules {
					if rule.syllabus && !inSyllabus(v.Figure) {
						continue
					}
					how := rule.breaks(d, i, who)
					if how == "" {
						continue
					}
					k := key{rule.name, v.Figure.Name, who}
					if _, ok := listed[k]; ok {
						listed[k] = true
						continue
					}
					t.Errorf("%s, step %d: the %s %s (%s; %s)", v.Name(), i+1, who, how, rule.name, rule.source)
				}
			}
		}
	}
	for k, met := range listed {
		if !met {
			t.Errorf("%s keeps the rule %q for the %s; take it off the exceptions", k.figure, k.rule, k.dancer)
		}
	}
	t.Logf("technique: %d steps of a dancer under %d rules, %d of them with sway, %d with rise and fall", steps, len(techniqueRules), sway, rise)
}

// riseUnknown and swayUnknown are the figures of a syllabus for which the library
// has no rise and fall, or no sway, on some step: nothing was read and nobody
// was sure.
var (
	riseUnknown = []string{"Drag Hesitation", "Left Whisk", "Contra Check", "Outside Swivel"}
	swayUnknown = []string{"Basic Weave", "Bounce Fallaway with Weave Ending", "Closed Wing", "Contra Check", "Cross Hesitation",
		"Curved Feather", "Fallaway Natural Turn", "Fallaway Reverse and Slip Pivot", "Fallaway Whisk", "Left Whisk",
		"Open Natural Turn", "Outside Swivel", "Passing Natural Turn", "Quick Closed Natural Telemark",
		"Quick Open Reverse Turn", "Running Cross Chassé", "Running Finish", "Running Spin Turn", "Turning Lock",
		"Turning Lock to Right", "Weave from Promenade"}
)

// TestTechniqueKnown holds the figures of a syllabus to have both dancers' rise
// and fall and sway on every step, but for those listed.
func TestTechniqueKnown(t *testing.T) {
	missing := func(column func(Action) string) []string {
		var names []string
		for _, v := range BuiltIn().Variants() {
			if !inSyllabus(v.Figure) || slices.Contains(names, v.Figure.Name) {
				continue
			}
			for _, s := range v.Steps {
				if column(s.Actions[Leader]) == "" || column(s.Actions[Follower]) == "" {
					names = append(names, v.Figure.Name)
					break
				}
			}
		}
		slices.Sort(names)
		return names
	}
	for _, row := range []struct {
		column string
		get    func(Action) string
		want   []string
	}{
		{"rise and fall", func(a Action) string { return string(a.Rise) }, riseUnknown},
		{"sway", func(a Action) string { return a.Sway }, swayUnknown},
	} {
		want := slices.Sorted(slices.Values(row.want))
		if got := missing(row.get); !slices.Equal(got, want) {
			t.Errorf("%s is missing in %q; listed are %q", row.column, got, want)
		}
	}
}

// TestRiseAndFallInOrder follows each dancer through a figure: nobody goes on
// rising who has not begun, nobody lowers who is not up, and nobody begins the
// next figure still up.
func TestRiseAndFallInOrder(t *testing.T) {
	for _, v := range BuiltIn().Variants() {
		for who := Leader; who <= Follower; who++ {
			up := false
			for i, s := range v.Steps {
				r := s.Actions[who].Rise
				before, ordered := up, true
				switch r {
				case CommenceToRise, CommenceToRiseAtEnd, CommenceNoFootRise, RiseAtEnd, RiseAtEndNoFootRise:
					ordered, up = !up, true
				case ContinueToRise, ContinueNoFootRise, Up:
					ordered = up
				case ContinueToRiseLower, UpLower, LowerAtEnd:
					ordered, up = up, false
				case NoRise:
					ordered = !up
				}
				if !ordered {
					t.Errorf("%s, step %d: the %s is told to %q, and before it was up: %t", v.Name(), i+1, who, r.At(i+1), before)
				}
			}
			if up {
				t.Errorf("%s leaves the %s up; it should end with lower at the end of %d", v.Name(), who, len(v.Steps))
			}
		}
	}
}
