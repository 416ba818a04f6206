package document_test

import (
	"fmt"

	"lapwright/figures/document"
)

func ExampleParse() {
	doc, err := document.Parse("hall.yaml", []byte("name: Alder Hall\nmargin: 0.5\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	top, _ := doc.Fields("name", "margin")
	name, _ := top.Text("name")
	margin, _ := top.Get("margin").Number(0, 2)
	fmt.Println(name, margin)
	_, err = top.Get("margin").Number(1, 2)
	fmt.Println(err)
	// Output:
	// Alder Hall 0.5
	// hall.yaml:2: margin: 0.5 is out of range: a number from 1 to 2 is expected
}

// Every field that is not known is told.
func ExampleNode_Fields() {
	doc, _ := document.Parse("hall.yaml", []byte("nam: Alder Hall\nmargins: 0.5\n"))
	_, err := doc.Fields("name", "margin")
	fmt.Println(err)
	// Output:
	// hall.yaml:1: "nam" is not a field that is known here; known are: name, margin
	// hall.yaml:2: "margins" is not a field that is known here; known are: name, margin
}
