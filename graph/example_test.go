package graph_test

import (
	"fmt"
	"os"
	"strings"

	"lapwright/figures"
	"lapwright/graph"
)

func Example() {
	g := graph.New(figures.BuiltIn().Variants(), -2)
	s, _ := figures.ParseStance("DC, LF, closed")
	for _, e := range g.From(s) {
		if e.Variant.Figure.Name == "Reverse Turn" {
			fmt.Println(e.Variant.Name(), "leads to", e.To.Short())
		}
	}
	// Output:
	// Reverse Turn leads to DW LF closed
	// Reverse Turn (1-3 to backing diagonal to wall) leads to DCA RF closed
	// Reverse Turn (1-3) leads to ALOD RF closed
	// Reverse Turn (to line of dance) leads to LOD LF closed
}

func ExampleGraph_FollowAtCorner() {
	g := graph.New(figures.BuiltIn().Variants(), -2)
	natural, _ := figures.BuiltIn().Variant("Natural Turn")
	fmt.Println("along one wall:", g.Follow(natural, natural))
	fmt.Println("round a corner:", g.FollowAtCorner(natural, natural))
	// Output:
	// along one wall: false
	// round a corner: true
}

func ExampleWhyNot() {
	s, _ := figures.ParseStance("facing diagonal to wall, left foot free, closed hold")
	reverse, _ := figures.BuiltIn().Variant("Reverse Turn")
	for _, r := range graph.WhyNot(s, reverse) {
		fmt.Println(r)
	}
	// Output:
	// the couple faces diagonal to wall; Reverse Turn begins facing diagonal to centre
}

func ExampleGraph_Path() {
	var repertory []*figures.Variant
	for _, name := range []string{"Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change"} {
		v, _ := figures.BuiltIn().Variant(name)
		repertory = append(repertory, v)
	}
	from, _ := figures.ParseStance("DW, RF, closed")
	to, _ := figures.ParseStance("DW, LF, closed")
	moves, _ := graph.New(repertory).Path(from, to)
	for _, m := range moves {
		fmt.Println(m.Variant.Name())
	}
	// Output:
	// Natural Turn
	// Right Foot Closed Change
	// Reverse Turn
}

func ExampleGraph_Components() {
	f, _ := figures.BuiltIn().Figure("Natural Turn")
	for _, part := range graph.New(f.Variants, -2).Components() {
		var words []string
		for _, s := range part {
			words = append(words, s.Short())
		}
		fmt.Println(strings.Join(words, "; "))
	}
	// Output:
	// DC RF closed; ALOD LF closed; DW RF closed
	// DCA RF closed
	// ALOD LF partner outside
	// DWA LF closed
	// DW RF outside partner
}

func ExampleGraph_Count() {
	g := graph.New(figures.BuiltIn().Variants())
	s, _ := figures.ParseStance("LOD, RF, promenade")
	fmt.Println(g.Count(s, 1), "figures leave", s)
	// Output:
	// 8 figures leave facing line of dance, right foot free, promenade
}

func ExampleGraph_DOT() {
	natural, _ := figures.BuiltIn().Variant("Natural Turn")
	_ = graph.New([]*figures.Variant{natural}, -2).DOT(os.Stdout)
	// Output:
	// digraph figures {
	// 	rankdir=LR;
	// 	node [shape=box];
	// 	"DC RF closed";
	// 	"DW RF closed";
	// 	"DW RF outside partner";
	// 	"DW RF closed" -> "DC RF closed" [label="Natural Turn"];
	// 	"DW RF outside partner" -> "DC RF closed" [label="Natural Turn"];
	// 	"DC RF closed" -> "DW RF closed" [label="corner -2/8", style=dashed];
	// }
}
