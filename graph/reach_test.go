package graph_test

import (
	"slices"
	"testing"

	"lapwright/figures"
	"lapwright/figures/geometry"
	"lapwright/graph"
)

// Natural turns alone go round a room: each ends diagonal to centre, which is
// diagonal to wall of the next wall (ballroomguide, beginner waltz routine).
// Along one wall only the form of a whole turn comes back to its beginning
// (common practice, no source).
func TestNaturalTurnsAlone(t *testing.T) {
	start := stance(t, "DW, RF, closed")
	usual := []*figures.Variant{variant(t, "Natural Turn")}
	whole := []*figures.Variant{variant(t, "Natural Turn (whole turn)")}
	half := []*figures.Variant{variant(t, "Natural Turn (half turn at a corner)")}
	for _, c := range []struct {
		name     string
		variants []*figures.Variant
		corners  []int
		part     []string // the largest, or the first of those of one stance
		ends     []string
	}{
		{"usual, along one wall", usual, nil, []string{"DC RF closed"}, []string{"DC RF closed"}},
		{"usual, round the room", usual, []int{-2}, []string{"DC RF closed", "DW RF closed"}, nil},
		{"usual, re-entrant corners only", usual, []int{2}, []string{"DC RF closed"}, []string{"DC RF closed"}},
		{"whole turn, along one wall", whole, nil, []string{"DW RF closed"}, nil},
		// Half a turn ends diagonal to centre of the next wall, from where no
		// natural turn begins.
		{"half turn, round the room", half, []int{-2}, []string{"DCA RF closed"}, []string{"DCA RF closed"}},
		{"all, round the room", variantsOf(t, "Natural Turn"), []int{-2},
			[]string{"DC RF closed", "ALOD LF closed", "DW RF closed"}, []string{"DCA RF closed", "DWA LF closed"}},
	} {
		g := graph.New(c.variants, c.corners...)
		if got := shorts(g.DeadEnds()); !slices.Equal(got, c.ends) {
			t.Errorf("%s: dead ends %v, want %v", c.name, got, c.ends)
		}
		if got := shorts(g.Components()[0]); !slices.Equal(got, c.part) {
			t.Errorf("%s: the largest part is %v, want %v", c.name, got, c.part)
		}
	}

	// Ten walls on end, a natural turn and a corner along each.
	g := graph.New(variantsOf(t, "Natural Turn"), -2)
	s := start
	for wall := range 10 {
		edges := g.From(s)
		i := slices.IndexFunc(edges, func(e graph.Edge) bool { return e.Variant == usual[0] })
		if i < 0 {
			t.Fatalf("no natural turn along wall %d, the couple is %s", wall, s)
		}
		corners := g.Corners()
		j := slices.IndexFunc(corners, func(c graph.Corner) bool { return c.From == edges[i].To })
		if j < 0 {
			t.Fatalf("no corner after wall %d, the couple is %s", wall, edges[i].To)
		}
		s = corners[j].To
	}
	if s != start {
		t.Errorf("the couple is %s, want %s", s, start)
	}
	if loops := g.Between(start, start); len(loops) != 1 || loops[0].Variant != whole[0] {
		t.Errorf("along the wall %v come back to their beginning, want the whole turn", loops)
	}
}

// Between two corners a figure is danced: alignments do not turn by themselves.
func TestNoTwoCornersTogether(t *testing.T) {
	// Boxes without turn, from the line of dance and from the wall only: after
	// one corner from facing the centre the couple faces the line of dance, and
	// only after a box there can it take the next.
	box := &figures.Variant{
		Figure:  &figures.Figure{Name: "Box", Beats: 3},
		Entries: []figures.Stance{stance(t, "LOD, LF"), stance(t, "W, LF")},
	}
	link := &figures.Variant{
		Figure:  &figures.Figure{Name: "Link", Beats: 3},
		Entries: []figures.Stance{stance(t, "C, LF")},
		Steps:   []figures.Step{{Hold: figures.Promenade}},
	}
	g := graph.New([]*figures.Variant{box, link}, -2)
	moves, ok := g.Path(stance(t, "C, LF"), stance(t, "W, LF"))
	var got []string
	for _, m := range moves {
		if m.Variant == nil {
			got = append(got, "corner")
		} else {
			got = append(got, m.Variant.Name())
		}
	}
	if want := []string{"corner", "Box", "corner"}; !ok || !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}

	only := graph.New([]*figures.Variant{link, {Figure: box.Figure, Entries: []figures.Stance{stance(t, "W, LF")}}}, -2)
	if reach := shorts(only.Reachable(stance(t, "C, LF"))); slices.Contains(reach, "W LF closed") {
		t.Errorf("two corners were taken together: %v", reach)
	}
	both := graph.New([]*figures.Variant{link, {Figure: box.Figure, Entries: []figures.Stance{stance(t, "W, LF")}}}, -2, -4)
	if reach := shorts(both.Reachable(stance(t, "C, LF"))); !slices.Contains(reach, "W LF closed") {
		t.Errorf("the sum of the two corners was not taken: %v", reach)
	}
}

// After a figure of a corner the corner is taken: nothing goes on along the wall
// (common practice, no source).
func TestCornerIsTakenAfterItsFigure(t *testing.T) {
	turn := &figures.Variant{
		Figure:  &figures.Figure{Name: "Turn", Beats: 3},
		Label:   "at a corner",
		Entries: []figures.Stance{stance(t, "DW, LF")},
		Steps:   []figures.Step{{Turn: 2 * geometry.Eighth}},
		Corner:  true,
	}
	box := &figures.Variant{
		Figure:  &figures.Figure{Name: "Box", Beats: 3},
		Entries: []figures.Stance{stance(t, "DC, LF"), stance(t, "DW, LF")},
		Steps:   []figures.Step{{Hold: figures.Promenade}},
	}
	along, round := graph.New([]*figures.Variant{turn, box}), graph.New([]*figures.Variant{turn, box}, -2)
	start := stance(t, "DW, LF")
	for _, c := range []struct {
		name  string
		g     *graph.Graph
		reach []string
		ends  []string
		part  []string
	}{
		{"along one wall", along,
			[]string{"DC LF closed", "DW LF closed", "DW LF promenade"},
			[]string{"DC LF closed", "DC LF promenade", "DW LF promenade"},
			[]string{"DC LF closed"}},
		{"round the room", round,
			[]string{"DC LF closed", "DW LF closed", "DW LF promenade"},
			[]string{"DC LF promenade", "DW LF promenade"},
			[]string{"DC LF closed", "DW LF closed"}},
	} {
		if got := shorts(c.g.Reachable(start)); !slices.Equal(got, c.reach) {
			t.Errorf("%s: reachable %v, want %v", c.name, got, c.reach)
		}
		if got := shorts(c.g.DeadEnds()); !slices.Equal(got, c.ends) {
			t.Errorf("%s: dead ends %v, want %v", c.name, got, c.ends)
		}
		if got := shorts(c.g.Components()[0]); !slices.Equal(got, c.part) {
			t.Errorf("%s: the largest part is %v, want %v", c.name, got, c.part)
		}
		if _, ok := c.g.Path(start, stance(t, "DC, LF, promenade")); ok {
			t.Errorf("%s: a box follows the turn", c.name)
		}
		for n, want := range []int64{1, 2, 0} { // turn or box; after either, nothing along the wall
			if got := c.g.Count(start, n); got.Int64() != want {
				t.Errorf("%s: %s sequences of %d figures, want %d", c.name, got, n, want)
			}
		}
	}
}

// A stance that no figure knows reaches itself, and what a corner makes of it.
func TestReachableFromAStrangeStance(t *testing.T) {
	natural := []*figures.Variant{variant(t, "Natural Turn")}
	for _, c := range []struct {
		from    string
		corners []int
		want    []string
	}{
		{"C, LF, fallaway", []int{-2}, []string{"C LF fallaway"}},
		{"DC, RF, outside partner", nil, []string{"DC RF outside partner"}},
		{"DC, RF, outside partner", []int{-2}, []string{"DC RF closed", "DC RF outside partner", "DW RF closed", "DW RF outside partner"}},
	} {
		if got := shorts(graph.New(natural, c.corners...).Reachable(stance(t, c.from))); !slices.Equal(got, c.want) {
			t.Errorf("from %s with corners %v: got %v, want %v", c.from, c.corners, got, c.want)
		}
	}
	if moves, ok := graph.New(natural, -2).Path(stance(t, "DC, RF, outside partner"), stance(t, "DC, RF, closed")); !ok || len(moves) != 2 {
		t.Errorf("path %v, %v", moves, ok)
	}
	if moves, ok := graph.New(natural).Path(stance(t, "DC, RF, closed"), stance(t, "DW, RF, closed")); ok || moves != nil {
		t.Errorf("path %v, %v", moves, ok)
	}
}
