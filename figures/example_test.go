package figures_test

import (
	"fmt"

	"lapwright/figures"
)

// A natural turn, danced by a couple of average measures: what the leader does
// and where the couple ends.
func ExampleVariant_Dance() {
	v, _ := figures.BuiltIn().Variant("Natural Turn (1-3)")
	d := v.Dance(v.Entries[0], figures.DefaultCouple())
	for _, s := range d.Steps {
		f := s.Falls[figures.Leader]
		fmt.Printf("%s %s, %s, %s\n", f.Foot.Short(), f.Word, f.Alignment.Short(), f.Turn)
	}
	fmt.Println(d.Exit)
	fmt.Printf("%.2f m along the line of dance, %.2f m towards the wall\n", d.Displacement.X, -d.Displacement.Y)
	// Output:
	// RF forward, facing DW, no turn
	// LF side, backing DC, 1/4 right
	// RF closes, backing LOD, 1/8 right
	// facing against line of dance, left foot free, closed hold
	// 1.11 m along the line of dance, 0.46 m towards the wall
}

// A variant is found by its figure's name, any other name of the trade, and the
// label in brackets; case, accents and spaces do not matter.
func ExampleLibrary_Variant() {
	lib := figures.BuiltIn()
	for _, name := range []string{"natural turn (4-6)", "Spin Turn", "chasse from pp", "Natral Turn"} {
		if v, ok := lib.Variant(name); ok {
			fmt.Println(v.Name())
		} else {
			fmt.Printf("%s? perhaps %s\n", name, lib.Nearest(name, 1)[0])
		}
	}
	// Output:
	// Natural Turn (4-6)
	// Natural Spin Turn
	// Chassé from Promenade
	// Natral Turn? perhaps Natural Turn
}

func ExampleParseStance() {
	s, err := figures.ParseStance("backing LOD, left foot free")
	fmt.Println(s, err)
	fmt.Println(s.Short())
	_, err = figures.ParseStance("DW, closed")
	fmt.Println(err)
	// Output:
	// facing against line of dance, left foot free, closed hold <nil>
	// ALOD LF closed
	// "DW, closed" is not a stance (alignment, free foot, hold, such as DW, RF, closed): "closed" is not a foot: write LF or RF
}

// The stance that a natural turn leaves is, on the next wall of a right-angled
// room, the one that it began in.
func ExampleStance_Turned() {
	v, _ := figures.BuiltIn().Variant("Natural Turn")
	exit := v.Exit(v.Entries[0])
	fmt.Println(exit.Short(), "is", exit.Turned(-2).Short(), "of the next wall")
	// Output:
	// DC RF closed is DW RF closed of the next wall
}

// A figure is its steps; one that nobody can dance is refused with the reason.
func ExampleLoad() {
	const file = `
dance: waltz
beats: 3
figures:
  - name: Stumble
    levels: bronze
    family: change
    from: LOD
    hold: closed
    parts:
      - part: three steps
        facing: LOD
        steps:
          - {foot: LF, travel: 1 LOD}
          - {foot: LF, travel: 1 LOD}
          - {foot: RF, travel: 1 LOD}
    variants:
      - {parts: three steps}
`
	_, err := figures.Load("mine.yaml", []byte(file), figures.DefaultCouple())
	fmt.Println(err)
	// Output:
	// mine.yaml:15: Stumble, step 2: the leader steps with the left foot, which bears the weight; the right foot is free
}

func ExampleCountWords() {
	lib := figures.BuiltIn()
	for _, name := range []string{"Reverse Turn", "Chassé from Promenade"} {
		v, _ := lib.Variant(name)
		fmt.Println(figures.CountWords(v.Steps, v.Figure.Beats))
	}
	// Output:
	// 1 2 3 1 2 3
	// 1 2 & 3
}

// What the trade dances after a figure is data; a join that no list has is told
// apart from one of which nothing is known.
func ExampleFollows_Of() {
	l := figures.BuiltIn()
	natural, _ := l.Variant("Natural Turn")
	impetus, _ := l.Variant("Closed Impetus")
	change, _ := l.Variant("Right Foot Closed Change")
	fmt.Println(l.Follows().Of(natural, change) == figures.Listed)
	fmt.Println(l.Follows().Of(impetus, natural) == figures.Unlisted)
	// Output:
	// true
	// true
}
