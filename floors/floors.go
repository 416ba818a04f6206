// Package floors holds the room that a couple dances in: its outline, what
// stands in it, its walls in the order of the line of dance, and where a
// couple may be.
//
// # What lives here
//
//   - [Load] reads a room from a small YAML file and refuses a bad one with its
//     line and its reason; [BuiltIn] and [Named] give the invented rooms that
//     come with the program.
//   - [Room.Clearance] is the exact distance from a place to the nearest wall or
//     obstacle; [Room.Field] is the same on a lattice, for a search.
//   - [Wall] is what a dancer calls a wall: its line of dance, long or short,
//     where its lane runs, and what happens at the corner at its end.
//     [Room.InUse] and [Room.InCorner] say where a wall is danced along and
//     where the next one may be taken; [Room.LineOfDance] answers everywhere.
//
// Figures, couples, laps and screens do not live here.
//
// # The file of a room
//
//	name: Village Hall
//	outline: [[0, 0], [18, 0], [18, 11], [0, 11]]  # corners in metres, either way round
//	margin: 0.1        # optional: metres kept free of walls and obstacles
//	capacity: 30       # optional: couples, as posted by the venue
//	obstacles:         # optional: polygons and circles
//	  - {name: stage, outline: [[17, 3], [18, 3], [18, 8], [17, 8]]}
//	  - {name: column, centre: [4, 4], radius: 0.3}
//	walls: [street side, stage end, garden side, door end]  # optional names
//
// The outline is any simple polygon; the first corner is not repeated at the
// end. A name in walls belongs to the side that leads from the corner at the
// same place in the list to the next corner in the list. Wall 1 is the wall on
// which the first corner lies, or which starts there.
//
// # Outline and walls
//
// The outline is the truth for clearance. Walls are the outline as dancers see
// it: jogs up to 0.6 m are smoothed, bends that are hardly felt are joined,
// and pieces too short to dance along are given to their neighbours, so that a
// round hall has about eight walls and a chimney breast is not four of them.
//
// # A first use
//
//	room, err := floors.Load("hall.yaml", data)
//	free := room.Clearance(geometry.Point{X: 4, Y: 1.5})
//	wall, direction := room.LineOfDance(geometry.Point{X: 4, Y: 1.5})
package floors
