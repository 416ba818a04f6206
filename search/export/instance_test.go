package export_test

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"lapwright/figures/document"
	"lapwright/search/export"
	"lapwright/search/label"
	"lapwright/search/network"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "write the golden files anew")

// written is an instance as text.
func written(t interface {
	Helper()
	Fatal(...any)
}, in *export.Instance) string {
	t.Helper()
	var b bytes.Buffer
	if err := export.Write(&b, in); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// corridor is a small graph with every limit.
func corridor(t *testing.T) *export.Instance {
	t.Helper()
	b := network.Builder{Network: network.Network{
		Ways: []network.Way{{Figure: 0, Bars: 2, Classes: 1 << 1, Right: true}, {Figure: 0, Bars: 1, Classes: 1<<0 | 1<<1},
			{Figure: 1, Bars: 1}},
		Figures: 2, Sources: []int32{0, 1}, End: 4, Walls: []int16{0, 0, 1, 0, -1}, Cutoff: 500,
	}}
	b.Add(0, network.Arc{To: 2, Way: 0, Cost: 215})
	b.Add(0, network.Arc{To: 2, Way: 1, Cost: 104})
	b.Add(1, network.Arc{To: 2, Way: 2, Cost: 130})
	b.Add(2, network.Arc{To: 3, Way: 2, Cost: 117})
	b.Add(3, network.Arc{To: 4, Way: network.Closing, Cost: 12})
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	return &export.Instance{Name: "Corridor with every limit", Network: n,
		Figures: []string{"Natural Turn", "Left Foot Closed Change"}, Classes: []string{"short figures", "turns"},
		Limits: label.Limits{MinBars: 2, MaxBars: 4, Phrase: 2, Uses: 3, Apart: 1, Different: 2, RightTurns: 4,
			Caps: []label.Cap{{Class: 1, Most: 2}, {Class: 0, Most: 0}}, Must: []int32{1},
			Orders: []label.Order{{First: 0, Then: 1}},
			Fixed:  []label.Fixed{{Figure: 0, Bar: 1, Wall: -1}, {Figure: 1, Bar: 2, Wall: 0}}}}
}

func TestWrite(t *testing.T) {
	got := written(t, corridor(t))
	const golden = "testdata/corridor.txt"
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("written is\n%s\nnot as in %s", got, golden)
	}
}

func TestNamesThatCannotBeWritten(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*export.Instance)
	}{
		{"two lines", func(in *export.Instance) { in.Name = "one\ntwo" }},
		{"no name", func(in *export.Instance) { in.Figures[0] = "" }},
		{"space at the end", func(in *export.Instance) { in.Classes[0] = "turns " }},
		{"no letters", func(in *export.Instance) { in.Figures[1] = "\xff" }},
		{"a name too few", func(in *export.Instance) { in.Figures = in.Figures[:1] }},
		{"classes too many", func(in *export.Instance) { in.Classes = slices.Repeat([]string{"turns"}, 65) }},
	} {
		in := corridor(t)
		c.change(in)
		if err := export.Write(new(bytes.Buffer), in); err == nil {
			t.Errorf("%s: written without an error", c.name)
		}
	}
}

// same reports whether two instances say the same.
func same(a, b *export.Instance) bool {
	p, q := a.Network, b.Network
	if a.Name != b.Name || !slices.Equal(a.Figures, b.Figures) || !slices.Equal(a.Classes, b.Classes) || !reflect.DeepEqual(a.Limits, b.Limits) ||
		!slices.Equal(p.Ways, q.Ways) || p.Figures != q.Figures || !slices.Equal(p.Sources, q.Sources) || p.End != q.End ||
		!slices.Equal(p.Walls, q.Walls) || p.Cutoff != q.Cutoff || p.Nodes() != q.Nodes() {
		return false
	}
	for node := range int32(p.Nodes()) {
		if !slices.Equal(p.Arcs(node), q.Arcs(node)) || p.ToGo(node) != q.ToGo(node) {
			return false
		}
	}
	return true
}

// draw draws an instance.
func draw(t *rapid.T) *export.Instance {
	whole := func(label string, least, most int) int { return rapid.IntRange(least, most).Draw(t, label) }
	name := rapid.StringMatching(`[A-Za-zéø#(][a-z0-9,)]{0,5}( [a-z0-9#]{1,4})?`)
	in := &export.Instance{Name: name.Draw(t, "name"), Figures: rapid.SliceOfN(name, 1, 4).Draw(t, "figures"),
		Classes: rapid.SliceOfN(name, 1, 64).Draw(t, "classes")}
	if rapid.Bool().Draw(t, "no name") {
		in.Name = ""
	}
	figures, classes, nodes := len(in.Figures), len(in.Classes), whole("nodes", 2, 12)
	b := network.Builder{Network: network.Network{Figures: figures, End: int32(whole("end", 0, nodes-1)), Cutoff: int32(whole("cutoff", 0, 5000))}}
	for range whole("ways", 1, 4) {
		b.Ways = append(b.Ways, network.Way{Figure: int32(whole("figure", 0, figures-1)), Bars: int32(whole("bars", 1, 4)),
			Classes: rapid.Uint64().Draw(t, "in classes") & (1<<classes - 1), Right: rapid.Bool().Draw(t, "right")})
	}
	for node := range nodes {
		b.Walls = append(b.Walls, int16(whole("wall", -1, 5)))
		if node == 0 || rapid.Bool().Draw(t, "source") {
			b.Sources = append(b.Sources, int32(node))
		}
		for range whole("arcs", 0, 3) {
			a := network.Arc{To: int32(whole("to", 0, nodes-1)), Way: network.Closing, Cost: int32(whole("cost", 1, 300))}
			if a.To != b.End {
				a.Way = int32(whole("way", 0, len(b.Ways)-1))
			}
			if int32(node) != b.End {
				b.Add(int32(node), a)
			}
		}
	}
	n, err := b.Build()
	if err != nil {
		t.Fatal(err)
	}
	in.Network = n
	l := &in.Limits
	for i, f := range []*int32{&l.MinBars, &l.MaxBars, &l.Phrase, &l.Uses, &l.Apart, &l.Different, &l.RightTurns} {
		*f = int32(whole(fmt.Sprint("limit ", i), 0, 9))
	}
	for range whole("caps", 0, 2) {
		l.Caps = append(l.Caps, label.Cap{Class: uint8(whole("class", 0, classes-1)), Most: int32(whole("most", 0, 3))})
	}
	for range whole("more limits", 0, 2) {
		f, g := int32(whole("figure", 0, figures-1)), int32(whole("figure", 0, figures-1))
		l.Must = append(l.Must, f)
		l.Orders = append(l.Orders, label.Order{First: f, Then: g})
		l.Fixed = append(l.Fixed, label.Fixed{Figure: g, Bar: int32(whole("bar", 1, 9)), Wall: int16(whole("wall", -1, 5))})
	}
	return in
}

func TestReadIsWhatWasWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := draw(t)
		text := written(t, in)
		out, err := export.Read("drawn.txt", []byte(text))
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		if !same(in, out) {
			t.Errorf("read is\n%s\nwritten was\n%s", written(t, out), text)
		}
	})
}

func TestReadPassesOver(t *testing.T) {
	text := written(t, corridor(t))
	loose := "# a graph\n\n" + strings.ReplaceAll(strings.ReplaceAll(text, "\n", "\r\n\n  # more\n\t"), " ", "  ")
	out, err := export.Read("loose.txt", []byte(loose))
	if err != nil {
		t.Fatal(err)
	}
	if !same(corridor(t), out) {
		t.Errorf("read is\n%s", written(t, out))
	}
}

func TestFilesThatAreRefused(t *testing.T) {
	good := written(t, corridor(t))
	for _, c := range []struct {
		name, old, new string
		want           string
	}{
		{"no form", "lapwright network", "network", `file.txt:1: found "network"; expected "lapwright network 1" on the first line`},
		{"version", "network 1", "network 2", `file.txt:1: found "2"; expected the version, a whole number from 1 to 1`},
		{"more on a line", "cutoff 500", "cutoff 500 bars", `file.txt:3: found "bars"; expected the end of the line`},
		{"no number", "cutoff 500", "cutoff 5.5", `file.txt:3: found "5.5"; expected a cost in hundredths of a bar, a whole number from 0 to 2147483647`},
		{"out of turn", "figure 1 ", "figure 3 ", `file.txt:5: found "3"; expected the number of the figure in turn, a whole number from 1 to 1`},
		{"unknown figure", "way 2 figure 1", "way 2 figure 7", `file.txt:10: found "7"; expected the number of a figure, a whole number from 0 to 1`},
		{"no time", "way 2 figure 1 bars 1", "way 2 figure 1 bars 0", `file.txt:10: found "0"; expected bars, a whole number from 1 to 1000000`},
		{"unknown limit", "limit phrase 2", "limit steps 2", `file.txt:13: found "steps"; expected a limit: least bars, most bars, phrase, uses, apart, different, right turns, class, must, order or fixed`},
		{"twice", "limit phrase 2", "limit uses 2\nlimit uses 2", `file.txt:14: this limit stands on a line before`},
		{"no bar", "bar 2 wall 0", "wall 0", `file.txt:23: found "wall"; expected "bar"`},
		{"unknown end", "end 4", "end 5", `file.txt:24: found "5"; expected the number of a node, a whole number from 0 to 4`},
		{"does not close", "to 4 closes", "to 4 way 1", `file.txt:33: found "way"; expected "closes"`},
		{"closes early", "to 3 way 2", "to 3 closes", `file.txt:31: found "closes"; expected "way"`},
		{"for nothing", "to 3 way 2 cost 117", "to 3 way 2 cost 0", `file.txt:31: found "0"; expected a cost in hundredths of a bar, a whole number from 1 to 1000000`},
		{"leaves the end", "node 4\n", "node 4\nto 1 way 0 cost 3\n", `file.txt:35: an arc leaves node 4, which is the end`},
		{"a node less", "node 4\n", "", `file.txt:33: the file ends; expected node 4 of 5`},
		{"a node more", "node 4\n", "node 4\nnode 5\n", `file.txt:35: there are more than 5 of these: node`},
		{"other words", "node 4\n", "node 4\nbye\n", `file.txt:35: found "bye"; expected "to" or the end of the file`},
		{"no source", " source", "", `file.txt:34: no node is marked as a source`},
		{"unprintable", "Natural Turn", "Natural\aTurn", `file.txt:4: found "Natural\aTurn"; expected the name of a figure in letters that can be printed`},
		{"empty", good, "", `file.txt: the file ends; expected "lapwright network 1" on the first line`},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.ReplaceAll(good, c.old, c.new)
			if text == good {
				t.Fatalf("there is no %q to change", c.old)
			}
			_, err := export.Read("file.txt", []byte(text))
			var fault *document.Error
			if !errors.As(err, &fault) || err.Error() != c.want {
				t.Errorf("the error is\n%v, want\n%s", err, c.want)
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	golden, err := os.ReadFile("testdata/corridor.txt")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(golden)
	f.Add([]byte("lapwright network 1\ncutoff 0\nnodes 2 end 1\nnode 0 source\nto 1 closes cost 0\nnode 1"))
	f.Add([]byte("lapwright network 1\nname \xff\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		in, err := export.Read("fuzz.txt", data)
		if err != nil {
			var fault *document.Error
			if !errors.As(err, &fault) || fault.File != "fuzz.txt" {
				t.Errorf("the error %v does not name the file", err)
			}
			return
		}
		out, err := export.Read("again.txt", []byte(written(t, in)))
		if err != nil || !same(in, out) {
			t.Errorf("what was read cannot be read again: %v", err)
		}
	})
}
