package graph_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/graph"
)

// pair is a join that the trade dances, with its source.
type pair struct{ first, second, source string }

// readFollows reads a list of what comes before and after each figure.
func readFollows(t *testing.T, name string) (pairs []pair) {
	t.Helper()
	file := filepath.Join("..", "testdata", "follows", name+".yaml")
	data, err := os.ReadFile(file)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(err)
	doc, err := document.Parse(file, data)
	must(err)
	top, err := doc.Fields("follows")
	must(err)
	list, err := top.Need("follows")
	must(err)
	rows, err := list.Items()
	must(err)
	for _, row := range rows {
		f, err := row.Fields("figure", "after", "then", "source")
		must(err)
		figure, err := f.Text("figure")
		must(err)
		source, err := f.Text("source")
		must(err)
		for _, field := range []string{"after", "then"} {
			at := f.Get(field)
			if at == nil {
				continue
			}
			names, err := at.Texts()
			must(err)
			for _, other := range names {
				p := pair{figure, other, source}
				if field == "after" {
					p.first, p.second = other, figure
				}
				pairs = append(pairs, p)
			}
		}
	}
	return pairs
}

// forms lists the variants that a name stands for: one, where it has a label in
// brackets, or else all of the figure.
func forms(t *testing.T, l *figures.Library, name string) []*figures.Variant {
	t.Helper()
	if strings.Contains(name, "(") {
		v, ok := l.Variant(name)
		if !ok {
			t.Fatalf("the library has no %s", name)
		}
		return []*figures.Variant{v}
	}
	f, ok := l.Figure(name)
	if !ok {
		t.Fatalf("the library has no %s", name)
	}
	return f.Variants
}

// noJoin are joins that the trade lists and the graph does not have, with the
// reason.
var noJoin = map[pair]string{
	{first: "Drag Hesitation", second: "Back Whisk"}: "the source gives no alignments for it: a drag hesitation ends backing diagonal to wall, a back whisk begins backing diagonal to centre against the line of dance",
}

// TestFollows looks up what the trade dances before and after each figure, along
// one wall or round a corner, in the graph. The source of each list stands beside
// it in testdata/follows; many are from memory, as it says.
func TestFollows(t *testing.T) {
	for _, name := range []string{"international", "american"} {
		t.Run(name, func(t *testing.T) {
			l := figures.BuiltIn()
			g := graph.New(l.Variants(), -2)
			straight, corner, awkward := 0, 0, 0
			for _, p := range readFollows(t, name) {
				joins := func(follow func(v, next *figures.Variant) bool) (any, easy bool) {
					for _, v := range forms(t, l, p.first) {
						for _, next := range forms(t, l, p.second) {
							if follow(v, next) {
								any, easy = true, easy || !graph.Awkward(v, next)
							}
						}
					}
					return any, easy
				}
				here, easy := joins(g.Follow)
				there, easyThere := joins(g.FollowAtCorner)
				_, excused := noJoin[pair{first: p.first, second: p.second}]
				switch {
				case !here && !there && !excused:
					t.Errorf("%s then %s (%s) is no join", p.first, p.second, p.source)
				case (here || there) && excused:
					t.Errorf("%s then %s joins; take it off the exceptions", p.first, p.second)
				case here:
					straight++
				case there:
					corner++
				}
				if here && !easy || !here && there && !easyThere {
					awkward++
					t.Logf("awkward by our measure: %s then %s (%s)", p.first, p.second, p.source)
				}
			}
			t.Logf("%d listed joins along one wall, %d only round a corner, %d exceptions, %d awkward by our measure", straight, corner, len(noJoin), awkward)
		})
	}
}
