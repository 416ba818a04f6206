package figures

import (
	"fmt"
	"testing"
)

// TestStateTable compares bars, entry, exit and net turn with what the sources
// of the charts in testdata/charts give for each figure. The national list of
// permitted figures of the Finnish association (STUL) agrees with the holds at
// both ends.
func TestStateTable(t *testing.T) {
	for _, row := range []struct {
		variant string
		bars    int
		entries []string // all of them
		exit    string   // from the first entry
		turn    string
		source  string
	}{
		{"Right Foot Closed Change", 1, []string{"DC, RF", "LOD, RF", "DC, RF, outside partner", "LOD, RF, outside partner"}, "DC, LF", "no turn",
			"Wikipedia, Change step; the entry facing the line of dance is common practice, no source"},
		{"Right Foot Closed Change (to line of dance)", 1, []string{"DC, RF", "DC, RF, outside partner"}, "LOD, LF", "1/8 right",
			"Beautiful Ballroom Dancing, RF closed change"},
		{"Left Foot Closed Change", 1, []string{"DW, LF", "LOD, LF", "DW, LF, outside partner", "LOD, LF, outside partner"}, "DW, RF", "no turn",
			"IDTA Associate theory flashcards; the entry facing the line of dance is common practice, no source; that from outside partner from memory"},
		{"Natural Turn", 2, []string{"DW, RF", "DW, RF, outside partner"}, "DC, RF", "3/4 right",
			"Magic Dance World, Natural Spin Turn; The Crucible on Screen, Natural Turn"},
		{"Natural Turn (half turn at a corner)", 2, []string{"DW, RF", "DW, RF, outside partner"}, "DCA, RF", "1/2 right",
			"Ballroom Guide, Beginner Waltz routine (1/8 on 1-3); 4-6 as usual, so 1/2 in all"},
		{"Natural Turn (underturned at a corner)", 2, []string{"DW, RF", "DW, RF, outside partner"}, "DCA, RF", "1/2 right",
			"BallroomDancers.com forum, Diagonal to centre (ends diagonal to centre of the new line of dance)"},
		{"Natural Turn (1-3)", 1, []string{"DW, RF", "DW, RF, outside partner"}, "backing LOD, LF", "3/8 right",
			"Magic Dance World, Natural Spin Turn"},
		{"Natural Turn (4-6)", 1, []string{"backing LOD, LF", "backing LOD, LF, partner outside"}, "DC, RF", "3/8 right",
			"from memory; the total as The Crucible on Screen, Natural Turn"},
		{"Reverse Turn", 2, []string{"DC, LF", "DC, LF, outside partner left"}, "DW, LF", "3/4 left", "Magic Dance World, Reverse Turn; outside partner left after a wing: Wikipedia, Wing"},
		{"Reverse Turn (1-3)", 1, []string{"DC, LF", "DC, LF, outside partner left"}, "backing LOD, RF", "3/8 left", "Magic Dance World, Reverse Turn"},
		{"Reverse Turn (4-6)", 1, []string{"backing LOD, RF", "backing LOD, RF, partner outside"}, "DW, LF", "3/8 left", "Magic Dance World, Reverse Turn"},
		{"Reverse Turn (4-6 from backing diagonal to centre)", 1, []string{"backing DC, RF"}, "DW, LF", "1/4 left",
			"Ballroom Guide, Bronze Waltz routine (after a spin turn)"},
		{"Natural Spin Turn", 2, []string{"DW, RF", "DW, RF, outside partner"}, "backing DC, RF", "5/4 right",
			"Magic Dance World, Natural Spin Turn"},
		{"Natural Spin Turn (at a corner)", 2, []string{"DW, RF", "DW, RF, outside partner"}, "DW, RF", "1 right",
			"DanceCentral, Natural Spin Turn; ends backing diagonal to centre of the new line of dance"},
		{"Hesitation Change", 2, []string{"DW, RF", "DW, RF, outside partner"}, "DC, LF", "3/4 right",
			"Takeabreak, The Waltz Hesitation Change"},
		{"Hesitation Change (at a corner)", 2, []string{"DW, RF", "DW, RF, outside partner"}, "C, LF", "5/8 right",
			"dancedescriptions.net, Hesitation Change underturned; faces the new line of dance"},
		{"Whisk", 1, []string{"DW, LF", "DW, LF, outside partner"}, "DW, RF, promenade", "no turn", "DanceCentral, Waltz Whisk"},
		{"Chassé from Promenade", 1, []string{"DW, RF, promenade"}, "DW, RF, outside partner", "no turn",
			"DanceCentral, Chasse from Promenade Position"},
		{"Outside Change", 1, []string{"backing DC, LF", "backing DC, LF, partner outside"}, "DW, RF, outside partner", "1/4 left",
			"DanceCentral, Outside Change"},
		{"Outside Change (to promenade)", 1, []string{"backing DC, LF", "backing DC, LF, partner outside"}, "DW, RF, promenade", "1/4 left",
			"idans.nl, International Waltz syllabus"},
		{"Outside Change (from backing line of dance)", 1, []string{"backing LOD, LF", "backing LOD, LF, partner outside"}, "DW, RF, outside partner", "3/8 left",
			"DanceCentral, Outside Change"},
		{"Closed Impetus", 1, []string{"backing LOD, LF", "backing LOD, LF, partner outside"}, "backing DCA, RF", "5/8 right",
			"Wikipedia, Impetus; BallroomDancers.com, Closed Impetus (5/8 in all)"},
		{"Open Impetus", 1, []string{"backing LOD, LF", "backing LOD, LF, partner outside"}, "LOD, RF, promenade", "1/2 right",
			"Wikipedia, Impetus: the body ends facing the line of dance, 1/8 beyond the foot, which has turned 3/8"},
		{"Closed Telemark", 1, []string{"DC, LF", "DC, LF, outside partner left"}, "DW, RF, outside partner", "3/4 left", "Wikipedia, Telemark"},
		{"Open Telemark", 1, []string{"DC, LF", "DC, LF, outside partner left"}, "DW, RF, promenade", "3/4 left", "Wikipedia, Telemark"},
		{"Basic Weave", 2, []string{"backing DW, RF"}, "DW, RF, outside partner", "1/2 left", "idans.nl, International Waltz syllabus"},
		{"Progressive Twinkle to Promenade", 1, []string{"DW, LF"}, "DW, RF, promenade", "no turn",
			"BallroomDancers.com, American Waltz figure 11, Twinkle"},
		{"Promenade Natural Turn", 1, []string{"DW, RF, promenade"}, "backing LOD, LF", "3/8 right",
			"BallroomDancers.com, Open Natural Turn"},
		{"Left Box (without turn)", 2, []string{"LOD, LF", "DC, LF", "DW, LF", "W, LF", "C, LF"}, "LOD, LF", "no turn",
			"BallroomDancers.com, Left Box (the turn is optional)"},
		{"Left Box (half turn)", 2, []string{"LOD, LF", "DC, LF"}, "ALOD, LF", "1/2 left", "BallroomDancers.com, Left Box (1/8 to 3/4)"},
		{"Right Box (half turn)", 2, []string{"LOD, RF", "DW, RF", "DC, RF"}, "ALOD, RF", "1/2 right", "from memory, the mirror of the left box"},
	} {
		t.Run(row.variant, func(t *testing.T) {
			v := variant(t, row.variant)
			if v.Bars() != row.bars {
				t.Errorf("%d bars, want %d (%s)", v.Bars(), row.bars, row.source)
			}
			var entries []Stance
			for _, s := range row.entries {
				entries = append(entries, stance(t, s))
			}
			if fmt.Sprint(v.Entries) != fmt.Sprint(entries) {
				t.Errorf("entries are %v, want %v (%s)", v.Entries, entries, row.source)
			}
			if got, want := v.Exit(v.Entries[0]), stance(t, row.exit); got != want {
				t.Errorf("leaves the couple %v, want %v (%s)", got, want, row.source)
			}
			if got := v.Turn().String(); got != row.turn {
				t.Errorf("turns %s, want %s (%s)", got, row.turn, row.source)
			}
		})
	}
}

// variant finds a variant of the built-in library.
func variant(t *testing.T, name string) *Variant {
	t.Helper()
	v, ok := BuiltIn().Variant(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	return v
}

func stance(t *testing.T, s string) Stance {
	t.Helper()
	st, err := ParseStance(s)
	if err != nil {
		t.Fatal(err)
	}
	return st
}
