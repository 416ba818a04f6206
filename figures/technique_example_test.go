package figures_test

import (
	"fmt"

	"lapwright/figures"
)

// Rise and fall holds no step's number; it is put in where the part is danced.
func ExampleRise_At() {
	whole, _ := figures.BuiltIn().Variant("Natural Spin Turn")
	half, _ := figures.BuiltIn().Variant("Natural Spin Turn (4-6)")
	fmt.Println(whole.Steps[4].Actions[figures.Leader].Rise.At(5))
	fmt.Println(half.Steps[1].Actions[figures.Leader].Rise.At(2))
	// Output:
	// rise at the end of 5
	// rise at the end of 2
}

// The first step is in contra body movement position where it is taken outside
// partner.
func ExampleDanced_CBMP() {
	v, _ := figures.BuiltIn().Variant("Natural Turn (1-3)")
	for _, entry := range v.Entries {
		d := v.Dance(entry, figures.DefaultCouple())
		fmt.Println(entry.Short(), d.CBMP(0, figures.Leader))
	}
	// Output:
	// DW RF closed false
	// DW RF outside partner true
}
