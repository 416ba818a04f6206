package answer

import (
	"math"

	"lapwright/figures"
	"lapwright/floors"
)

// Rooms are the rooms that come with the program.
type Rooms struct {
	Rooms []Room `json:"rooms"`
}

// Room is a room with what is computed about it.
type Room struct {
	Name          string     `json:"name"`      // by which commands find it; empty for a file
	FullName      string     `json:"full_name"` // its own
	File          string     `json:"file"`      // empty for a room that comes with the program
	Length        Number     `json:"length"`    // of the least upright rectangle around it
	Breadth       Number     `json:"breadth"`
	Area          Number     `json:"area"` // m², obstacles taken off
	Margin        Number     `json:"margin"`
	Capacity      int        `json:"capacity"`        // couples, as posted; 0: none posted
	Couples       int        `json:"couples"`         // that move freely
	CouplesAtMost int        `json:"couples_at_most"` // at the closest
	LapLength     Number     `json:"lap_length"`      // once round along the middle of the lane
	Outline       []Point    `json:"outline"`         // counter-clockwise
	Obstacles     []Obstacle `json:"obstacles"`
	Walls         []Wall     `json:"walls"` // in the order of the line of dance
}

// Obstacle is something that nobody dances through: a polygon, or a circle with
// an empty outline.
type Obstacle struct {
	Name    string  `json:"name"`
	Outline []Point `json:"outline"`
	Centre  Point   `json:"centre"`
	Radius  Number  `json:"radius"` // 0 for a polygon
}

// Wall is one wall as dancers see it.
type Wall struct {
	Number        int    `json:"number"` // from 1
	Name          string `json:"name"`
	Kind          string `json:"kind"` // long or short
	From          Point  `json:"from"`
	To            Point  `json:"to"`
	Direction     Number `json:"direction"` // of its line of dance, degrees to the left of the room's x axis
	Length        Number `json:"length"`
	Lane          Number `json:"lane"`           // from the wall to the middle of the lane
	Reach         Number `json:"reach"`          // from the wall to where it is no longer the one in use
	CornerDegrees Number `json:"corner_degrees"` // by which the line of dance turns at its end, left positive
	AddsEighths   int    `json:"adds_eighths"`   // to a couple's alignment on taking the next wall, towards the centre positive
	LanesMeet     Point  `json:"lanes_meet"`     // of this wall and the next

	// DiagonalToWall is how "diagonal to wall of the next wall" reads along this
	// one, as tables write it.
	DiagonalToWall string `json:"-"`
}

// NewRoom is a room; name and file say where it came from.
func NewRoom(r *floors.Room, name, file string) Room {
	low, high := r.Bounds()
	a := Room{Name: name, FullName: r.Name, File: file, Length: Number(high.X - low.X), Breadth: Number(high.Y - low.Y),
		Area: Number(r.Area()), Margin: Number(r.Margin), Capacity: r.Capacity, Couples: r.Couples(), CouplesAtMost: r.CouplesAtMost(),
		LapLength: Number(r.LapLength()), Outline: points(r.Outline), Obstacles: []Obstacle{}, Walls: []Wall{}}
	for i, o := range r.Obstacles {
		a.Obstacles = append(a.Obstacles, Obstacle{ObstacleName(r, i), points(o.Outline), point(o.Disc.Centre), Number(o.Disc.Radius)})
	}
	for i := range r.Walls {
		w := &r.Walls[i]
		kind := "short"
		if w.Long {
			kind = "long"
		}
		a.Walls = append(a.Walls, Wall{Number: i + 1, Name: w.Name, Kind: kind, From: point(w.From), To: point(w.To),
			Direction: Number(Degrees(w.Direction)), Length: Number(w.Length), Lane: Number(w.Lane), Reach: Number(w.Reach),
			CornerDegrees: Number(w.Corner * 180 / math.Pi), AddsEighths: w.Eighths, LanesMeet: point(w.Meet),
			DiagonalToWall: figures.DiagonalToWall.Add(-w.Eighths).Short()})
	}
	return a
}
