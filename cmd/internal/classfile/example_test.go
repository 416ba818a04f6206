package classfile_test

import (
	"fmt"

	"lapwright/cmd/internal/classfile"
	"lapwright/figures"
)

// What a class knows after two of its three weeks.
func Example() {
	const file = `
name: Thursday beginners
weeks:
  - [Natural Turn, Right Foot Closed Change]
  - {title: To the left, figures: [Reverse Turn, Left Foot Closed Change]}
  - [Whisk, Chassé from Promenade]
`
	c, err := classfile.Read("thursday.yaml", []byte(file), figures.BuiltIn())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range c.Known(2) {
		fmt.Printf("%s, line %d\n", t.Name, t.Line)
	}
	// Output:
	// Natural Turn, line 4
	// Right Foot Closed Change, line 4
	// Reverse Turn, line 5
	// Left Foot Closed Change, line 5
}
