package compare

import (
	"bytes"
	"flag"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"

	"lapwright/search/export"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("it is\n%s\nnot as in %s", got, file)
	}
}

// graph is a small graph: the cheapest lap costs 220 and takes 2 bars; another takes
// 3 and costs 333.
const graph = `lapwright network 1
cutoff 340
figure 0 Natural Turn
figure 1 Left Foot Closed Change
class 0 turns
way 0 figure 0 bars 2 right class 0
way 1 figure 1 bars 1
LIMITS
nodes 5 end 3
node 0 source
  to 1 way 1 cost 104
  to 1 way 0 cost 217
  to 1 way 0 cost 219
  to 4 way 1 cost 190
node 1 wall 0
  to 2 way 1 cost 104
node 2 wall 1
  to 3 closes cost 12
node 3
node 4 wall 0
  to 2 way 1 cost 140
`

func TestFacts(t *testing.T) {
	for _, c := range []struct {
		name, limits string
		size         Size
	}{
		// Of the arcs side by side the dearer is of no use.
		{"plain", "", Size{Nodes: 5, Arcs: 5}},
		// Node 4 is too dear in the end; the other nodes stand once for each bar.
		{"limited", `
			limit uses 1
			limit apart 2
			limit different 2
			limit right turns 3
			limit class 0 most 2
			limit must figure 0
			limit order figure 0 figure 1
			limit fixed figure 1 bar 1
			limit fixed figure 1 bar 3 wall 1`, Size{Nodes: 6, Arcs: 6}},
		// Only laps of 3 bars are left.
		{"three bars", "limit phrase 3", Size{Nodes: 4, Arcs: 3}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in, err := export.Read("graph.txt", []byte(strings.Replace(graph, "LIMITS", c.limits, 1)))
			if err != nil {
				t.Fatal(err)
			}
			var b bytes.Buffer
			size, err := Facts(&b, in)
			if err != nil {
				t.Fatal(err)
			}
			if size != c.size {
				t.Errorf("there are %+v, want %+v", size, c.size)
			}
			golden(t, "testdata/"+strings.ReplaceAll(c.name, " ", "-")+".facts", b.String())
		})
	}
}

func TestRead(t *testing.T) {
	clock := time.Duration(0)
	tick := func() time.Duration { clock++; return clock }
	for _, c := range []struct {
		name, out string
		want      Answer
	}{
		{"proof", "clingo version 5\nSolving...\nOptimization: 31\nOptimization: 7\nat(1) at(2)\nOPTIMUM FOUND\n\nModels : 2\nOptimization : 7\n",
			Answer{Cost: 7, Proven: true, Best: 2, Proof: 3}},
		{"stopped", "Solving...\nOptimization: 31\n*** Info : INTERRUPTED by signal!\n", Answer{Cost: 31, Best: 1}},
		{"all alike", "Solving...\nAnswer: 1\nat(1)\nSATISFIABLE\n", Answer{Proven: true, Best: 1, Proof: 1}},
		{"no lap", "Solving...\nUNSATISFIABLE\n", Answer{Cost: -1, Proven: true, Proof: 1}},
		{"nothing", "", Answer{Cost: -1}},
	} {
		clock = 0
		got, err := read(strings.NewReader(c.out), tick)
		if err != nil || !reflect.DeepEqual(*got, c.want) {
			t.Errorf("%s: read is %+v, %v, want %+v", c.name, got, err, c.want)
		}
	}
	if _, err := read(strings.NewReader("Optimization: 3 4\n"), tick); err == nil {
		t.Error("a cost that is no number is read")
	}
}

// rows are an instance on which all were done, one on which some were stopped, and one
// on which ours was.
var rows = []Row{
	{Room: "Pantry", Figures: "bronze", Limits: "none", Cost: 1322, Agreed: true, States: 550715, Cut: Size{135, 1196}, Expansions: 610,
		Ours: Time{Took: 1780 * time.Microsecond}, Search: Time{Took: 99600 * time.Nanosecond}, Making: Time{Took: 7 * time.Millisecond}, Ahead: Time{Took: 19 * time.Millisecond}, Lane: Time{Took: 80 * time.Millisecond},
		Dijkstra: Time{Took: 9949 * time.Millisecond}, ToBest: Time{Took: 9960 * time.Millisecond}, ToProof: Time{Took: time.Minute, Over: true},
		OnCut: Time{Took: 51 * time.Microsecond}},
	{Room: "Bend", Figures: "gold", Limits: "3 bars apart", Limited: true, Cost: -1, Cutoff: 2602, Ours: Time{None: true}, Search: Time{None: true}, Making: Time{None: true},
		OnCut: Time{Took: 2 * time.Millisecond}, Ahead: Time{Took: 300 * time.Nanosecond}, Lane: Time{Took: 15 * time.Microsecond}, Dijkstra: Time{Took: time.Minute, Over: true},
		ToBest: Time{None: true}, ToProof: Time{Took: time.Second}},
	{Room: "Nook", Figures: "bronze", Limits: "none", Cost: 1817, Agreed: true, Ours: Time{Took: time.Minute, Over: true}, Search: Time{Took: time.Minute, Over: true},
		Ahead: Time{Took: time.Second}, Lane: Time{Took: time.Minute, Over: true}, Dijkstra: Time{Took: time.Minute, Over: true}, ToBest: Time{Took: time.Second},
		ToProof: Time{Took: 3 * time.Second}, OnCut: Time{Took: 3 * time.Millisecond}},
}

func TestTable(t *testing.T) { golden(t, "testdata/table.md", Table(rows)) }

func TestAims(t *testing.T) { golden(t, "testdata/aims.md", Aims(rows)) }

func TestReplace(t *testing.T) {
	file := []byte("before\n" + begins + "old\n" + finish + "after\n")
	got, err := Replace(file, "new\n")
	if want := "before\n" + begins + "new\n" + finish + "after\n"; err != nil || string(got) != want {
		t.Errorf("the file is %q, %v, want %q", got, err, want)
	}
	for _, file := range []string{"", begins, finish + begins, "before\n" + finish} {
		if _, err := Replace([]byte(file), "new\n"); err == nil {
			t.Errorf("%q has a place for the comparison", file)
		}
	}
}

// TestReadmeHasAPlace: the comparison has a place in README.md.
func TestReadmeHasAPlace(t *testing.T) {
	file, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Replace(file, ""); err != nil {
		t.Error(err)
	}
}
