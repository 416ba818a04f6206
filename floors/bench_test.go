package floors_test

import (
	"testing"

	"lapwright/figures/geometry"
	"lapwright/floors"
)

func BenchmarkField(b *testing.B) {
	hall, _ := floors.Named("village hall")
	ballroom, _ := floors.Named("ballroom")
	for _, c := range []struct {
		name string
		room *floors.Room
	}{
		{"village hall", hall},
		{"ballroom", ballroom},
		{"60 by 40", load(b, points(0, 0, 60, 0, 60, 40, 0, 40))},
		{"10,000 corners, 20 m", load(b, circle(10000, 10))},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				c.room.Field(0.05)
			}
		})
	}
}

func BenchmarkClearance(b *testing.B) {
	ballroom, _ := floors.Named("ballroom")
	round := load(b, circle(10000, 10))
	for _, c := range []struct {
		name string
		room *floors.Room
		p    geometry.Point
	}{
		{"ballroom", ballroom, geometry.Point{X: 9, Y: 3}},
		{"10,000 corners", round, geometry.Point{X: 6, Y: 3}},
		{"10,000 corners, middle", round, geometry.Point{X: 0.001, Y: 0.002}},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				c.room.Clearance(c.p)
			}
		})
	}
}

func BenchmarkLoad(b *testing.B) {
	hall, _ := floors.Named("village hall")
	for _, c := range []struct {
		name string
		data []byte
	}{
		{"village hall", file(hall.Outline)},
		{"10,000 corners", file(circle(10000, 10))},
		{"200 by 200", file(points(0, 0, 200, 0, 200, 200, 0, 200))},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if _, err := floors.Load("bench.yaml", c.data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
