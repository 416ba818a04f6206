package floors_test

import (
	"fmt"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

func ExampleLoad() {
	room, err := floors.Load("chapel-hall.yaml", []byte(`
name: Chapel Hall
outline: [[0, 0], [14, 0], [14, 9], [0, 9]]
obstacles:
  - {name: column, centre: [4, 4], radius: 0.3}
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.0f m², a lap of %.0f m\n", room.Name, room.Area(), room.LapLength())
	for i := range room.Walls {
		fmt.Println(&room.Walls[i])
	}
	// Output:
	// Chapel Hall: 126 m², a lap of 34 m
	// wall 1, long
	// wall 2, short
	// wall 3, long
	// wall 4, short
}

func ExampleLoad_refused() {
	_, err := floors.Load("cupboard.yaml", []byte("name: Cupboard\noutline: [[0, 0], [1, 0], [1, 1], [0, 1]]\n"))
	fmt.Println(err)
	// Output:
	// cupboard.yaml:2: outline: the room is 1 × 1 m, too small for any couple: each way it must measure at least 2 m; are the corners in metres?
}

func ExampleRoom_Clearance() {
	hall, _ := floors.Named("village hall")
	fmt.Printf("%.2f m\n", hall.Clearance(geometry.Point{X: 16, Y: 5}))
	fmt.Printf("%.2f m\n", hall.Clearance(geometry.Point{X: 17.5, Y: 5}))
	// Output:
	// 1.00 m
	// -0.50 m
}

func ExampleRoom_InCorner() {
	hall, _ := floors.Named("village hall")
	p := geometry.Point{X: 16, Y: 1.5}
	first := &hall.Walls[0]
	along, across := first.Locate(p)
	fmt.Printf("%s: %.1f m along, %.1f m from the wall\n", first, along, across)
	fmt.Println("the next wall may be taken:", hall.InCorner(0, p))
	fmt.Println("eighths added to the heading:", first.Eighths)
	// Output:
	// lane side, long: 16.0 m along, 1.5 m from the wall
	// the next wall may be taken: true
	// eighths added to the heading: -2
}

func ExampleRoom_LineOfDance() {
	club, _ := floors.Named("clubroom")
	for _, p := range []geometry.Point{{X: 4, Y: 1}, {X: 15, Y: 3}, {X: 3.5, Y: 12}} {
		wall, _ := club.LineOfDance(p)
		fmt.Println(&club.Walls[wall])
	}
	// Output:
	// slipway side, long
	// bar end, short
	// trophy end, short
}

func ExampleRoom_Couples() {
	ballroom, _ := floors.Named("ballroom")
	fmt.Printf("%d couples move freely; the venue's posted limit of %d decides\n", ballroom.Couples(), ballroom.Capacity)
	// Output:
	// 26 couples move freely; the venue's posted limit of 60 decides
}

func ExampleRoom_Stretched() {
	hall, _ := floors.Named("village hall")
	longer, err := hall.Stretched(0, 1.5)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %g m, then %g m\n", hall.Walls[0].Name, hall.Walls[0].Length, longer.Walls[0].Length)
	fmt.Printf("the %s moves from %g to %g\n", hall.Obstacles[0].Name, hall.Obstacles[0].Outline[0].X, longer.Obstacles[0].Outline[0].X)
	// Output:
	// lane side: 18 m, then 19.5 m
	// the stage apron moves from 17 to 18.5
}
