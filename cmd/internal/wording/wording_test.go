package wording_test

import (
	"fmt"
	"testing"

	"lapwright/cmd/internal/wording"
	"lapwright/figures"
)

func ExampleMany() {
	fmt.Println(wording.Many(1, "bar"), "of", wording.Many(3, "figure"))
	// Output: 1 bar of 3 figures
}

func TestWording(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{wording.Many(0, "fault"), "0 faults"},
		{wording.Clock(66.2), "1:06"},
		{wording.Clock(59.6), "1:00"},
		{wording.Clock(3600), "60:00"},
		{wording.The("stage apron"), "the stage apron"},
		{wording.The("column 3"), "column 3"},
		{wording.The("the wall"), "the wall"},
		{wording.Sentence(" éa b"), "Éa b."},
		{wording.Sentence("Done!"), "Done!"},
		{wording.Sentence(""), ""},
		{wording.Hold("closed"), "closed hold"},
		{wording.Hold("promenade"), "promenade"},
		{wording.Hold("no hold of ours"), "no hold of ours"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestCall(t *testing.T) {
	for name, want := range map[string]string{
		"Natural Turn":       "Natural Turn|",
		"Natural Turn (1-3)": "Natural Turn|1-3",
		"Reverse Pivot (after natural spin turn to diagonal to centre)": "Natural Spin Turn, Reverse Pivot|to diagonal to centre",
	} {
		v, ok := figures.BuiltIn().Variant(name)
		if !ok {
			t.Fatal(name)
		}
		if figure, way := wording.Call(v); figure+"|"+way != want {
			t.Errorf("%s is called %s|%s", name, figure, way)
		}
	}
}
