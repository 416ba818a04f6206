package wording_test

import (
	"fmt"
	"testing"

	"lapwright/cmd/internal/wording"
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
		{wording.Hold("closed"), "closed hold"},
		{wording.Hold("promenade"), "promenade"},
		{wording.Hold("no hold of ours"), "no hold of ours"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
