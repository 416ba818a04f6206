package figures

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
)

// goodFile is a small library that loads and uses every field.
const goodFile = `
dance: waltz
beats: 3
figures:
  - name: Turn
    also: [Other Turn]
    levels: [bronze, social]
    family: natural
    note: A note.
    source: common practice, no source
    from: [DW, LOD]
    hold: [closed, outside partner]
    parts:
      - part: half
        facing: DW
        steps:
          - {foot: RF, travel: 1 DW, footwork: [HT, TH], rise: commence to rise}
          - {foot: LF, travel: 0.9 LOD, turn: 1/4 right, points: {follower: 1/8 right}, hold: closed}
          - {beats: 0.5, foot: RF, turn: 1/8 right, shift: {follower: [0, 0.05]}}
          - {beats: 0.5, foot: LF, travel: 0.1 LOD, pivot: 1/8 right, completes: 1/8 left, without weight: [leader, follower]}
    variants:
      - {parts: half}
      - {label: at a corner, parts: [half], from: DC, hold: outside partner, awkward: 1, corner: yes}
  - name: Heel
    levels: silver
    family: natural
    from: ALOD
    hold: closed
    parts:
      - part: heel
        facing: ALOD
        steps:
          - {foot: LF, travel: 0.9 LOD}
          - {foot: RF, follower: LF, travel: 0.15 LOD, turn: 3/8 right, heel turn: leader}
          - {foot: LF, travel: 0.6 C-DCA, turn: 1/4 right}
    variants:
      - {parts: heel}
      - {label: again, parts: Heel/heel}
`

func TestGoodFileLoads(t *testing.T) {
	l, err := Load("good.yaml", []byte(goodFile), DefaultCouple())
	if err != nil {
		t.Fatal(err)
	}
	v, ok := l.Variant("other turn (at a corner)")
	if !ok || !v.Corner || v.Awkward != 1 || v.Line != 23 || len(v.Entries) != 1 || v.Steps[2].Line != 19 {
		t.Errorf("%+v", v)
	}
	if s := v.Steps[3]; s.Beats != 0.5 || !s.KeepsHold || s.Hold != Closed || !s.Actions[Follower].Weightless || s.Pivot != -2 || s.Completes != 2 {
		t.Errorf("%+v", s)
	}
	if a := v.Steps[0].Actions[Follower]; a.Footwork != "TH" || a.Rise != CommenceToRise || a.Foot != LeftFoot {
		t.Errorf("%+v", a)
	}
}

// FuzzLoad loads any text: it never panics, refuses with errors that name the
// file, and what it accepts can be danced; examining it comes to the same.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(goodFile))
	files, err := filepath.Glob(filepath.Join("testdata", "bad", "*.yaml"))
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	couple := DefaultCouple()
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := Load("fuzz.yaml", data, couple)
		if x, unread := Empty().Examine("fuzz.yaml", data, couple); unread == nil && (x.Library != nil) != (err == nil) {
			t.Fatalf("examined, it can be danced: %v; loading says %v", x.Library != nil, err)
		}
		if err != nil {
			eachFault(err, func(e error) {
				var fault *document.Error
				if !errors.As(e, &fault) || fault.File != "fuzz.yaml" || fault.Problem == "" || fault.Error() == "" {
					t.Errorf("%T: %v", e, e)
				}
			})
			return
		}
		for _, v := range l.Variants() {
			if found, ok := l.Variant(v.Name()); !ok || found != v {
				t.Errorf("%q is not found by its name", v.Name())
			}
			for _, entry := range v.Entries {
				d := v.Dance(entry, couple)
				if d.Last().Hold != d.Exit.Hold || len(d.Sweep()) == 0 {
					t.Errorf("%s from %v ends %v", v.Name(), entry, d.Exit)
				}
			}
		}
	})
}

// FuzzParseStance parses any text: what is read can be written and read again.
func FuzzParseStance(f *testing.F) {
	for _, s := range []string{"DW, RF, closed", "backing LOD, left foot free", "facing diagonal to wall, right foot free, closed hold",
		"pointing C,lf,partner outside", "", ",,", "DW RF closed", "DW, none, closed"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		st, err := ParseStance(s)
		if err != nil {
			if st != (Stance{}) {
				t.Errorf("%q gives %v with an error", s, st)
			}
			return
		}
		if again, err := ParseStance(st.String()); err != nil || again != st {
			t.Errorf("%q reads as %v, which reads as %v, %v", s, st, again, err)
		}
	})
}

// FuzzParseAlignment parses any text as an alignment, a hold, a foot, a level, a
// dancer, a direction and a travel.
func FuzzParseAlignment(f *testing.F) {
	for _, s := range []string{"facing DW", "backing line of dance", "LOD-DC", "W-DW", "0.8 LOD-DC", "LF", "closed hold", "bronze", "leader", "1e999 LOD"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if a, err := ParseAlignment(s); err == nil {
			if again, err := ParseAlignment(a.String()); err != nil || again != a {
				t.Errorf("%q reads as %v, which reads as %v, %v", s, a, again, err)
			}
		}
		if h, err := ParseHold(s); err == nil {
			if again, err := ParseHold(h.String()); err != nil || again != h {
				t.Errorf("%q reads as %v, which reads as %v, %v", s, h, again, err)
			}
		}
		if foot, err := ParseFoot(s); err == nil {
			if again, err := ParseFoot(foot.Short()); err != nil || again != foot {
				t.Errorf("%q reads as %v, which reads as %v, %v", s, foot, again, err)
			}
		}
		if l, err := ParseLevel(s); err == nil && !l.Includes(l) {
			t.Errorf("%q reads as level %q", s, l)
		}
		if tr, err := parseTravel(s); err == nil && !(tr.strides >= 0 && tr.strides <= maxStrides && tr.toward >= 0 && tr.toward < geometry.Full) {
			t.Errorf("%q reads as %v", s, tr)
		}
		if d, err := parseDancer(s); err == nil && d.Other().Other() != d {
			t.Errorf("%q reads as %v", s, d)
		}
	})
}
