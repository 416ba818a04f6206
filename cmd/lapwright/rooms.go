package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/wording"
	"lapwright/floors"
)

// roomsCommand lists rooms or shows one.
type roomsCommand struct {
	Name  string `arg:"" optional:"" name:"name" help:"The room to show: its name or its file."`
	SVG   string `name:"svg" group:"Files:" placeholder:"FILE" help:"Draw the room from above."`
	Force bool   `group:"Files:" help:"Write over a file that is there already."`
}

// Run prints the rooms.
func (c *roomsCommand) Run(s *session) error {
	if c.Name == "" {
		if c.SVG != "" {
			return fmt.Errorf("--svg draws one room: name it")
		}
		return s.rooms()
	}
	output := outputFlags{SVG: c.SVG, Force: c.Force}
	if err := output.ready(); err != nil {
		return err
	}
	if err := output.spare("room", c.Name); err != nil {
		return err
	}
	room, err := findRoom(c.Name)
	if err != nil {
		return err
	}
	a := answer.NewRoom(room.Room, room.key, room.name.File)
	written, err := output.drawRoom(room.Room)
	if err != nil {
		return err
	}
	if s.json {
		return answer.Write(s.out, a)
	}
	if err := s.room(room.Room, a); err != nil {
		return err
	}
	if written != "" {
		fmt.Fprintf(s.out, "\nWritten: %s\n", written)
	}
	return nil
}

// rooms lists the rooms that come with the program.
func (s *session) rooms() error {
	all := answer.Rooms{Rooms: []answer.Room{}}
	for _, name := range floors.Names() {
		room, _ := floors.Named(name)
		all.Rooms = append(all.Rooms, answer.NewRoom(room, name, ""))
	}
	if s.json {
		return answer.Write(s.out, all)
	}
	columns := []column{{"Name", false}, {"Room", false}, {"Size", true}, {"Area", true}, {"Walls", true}, {"Once round", true}, {"Couples", true}}
	var rows [][]string
	for _, r := range all.Rooms {
		rows = append(rows, []string{r.Name, r.FullName, fmt.Sprintf("%g × %g m", float64(r.Length), float64(r.Breadth)), fmt.Sprintf("%.1f m²", float64(r.Area)),
			strconv.Itoa(len(r.Walls)), fmt.Sprintf("%.1f m", float64(r.LapLength)), strconv.Itoa(r.Couples)})
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	fmt.Fprint(s.out, "\nOnce round is along the middle of the lane. Couples is how many move freely; the\nlimit that the venue posts, local rules and those in charge of the floor decide.\n")
	return nil
}

// room shows one room.
func (s *session) room(room *floors.Room, a answer.Room) error {
	fmt.Fprintf(s.out, "%s\n\n", s.paint.bold(room.Name))
	columns := []column{{"Wall", true}, {"Name", false}, {"Kind", false}, {"From", false}, {"To", false}, {"Length", true}, {"Lane", true}, {"Corner at its end", false}}
	var rows [][]string
	for _, w := range a.Walls {
		rows = append(rows, []string{strconv.Itoa(w.Number), w.Name, w.Kind, place(w.From.X, w.From.Y), place(w.To.X, w.To.Y),
			fmt.Sprintf("%.2f m", float64(w.Length)), fmt.Sprintf("%.2f m", float64(w.Lane)), cornerWords(w)})
	}
	if err := table(s.out, columns, rows); err != nil {
		return err
	}
	fmt.Fprintln(s.out)
	facts := []fact{
		{"Size", fmt.Sprintf("%g × %g m", float64(a.Length), float64(a.Breadth))},
		{"Floor to dance on", fmt.Sprintf("%.1f m²", float64(a.Area))},
		{"Once round", fmt.Sprintf("%.1f m along the middle of the lane", float64(a.LapLength))},
		{"Margin", fmt.Sprintf("%.2f m kept free of walls and obstacles", float64(a.Margin))},
		{"Couples", fmt.Sprintf("%d move freely, %d at the closest", a.Couples, a.CouplesAtMost)},
	}
	if a.Capacity > 0 {
		facts = append(facts, fact{"Posted limit", wording.Many(a.Capacity, "couple")})
	}
	for i, o := range a.Obstacles {
		head := ""
		if i == 0 {
			head = "Obstacles"
		}
		facts = append(facts, fact{head, obstacleWords(o)})
	}
	printFacts(s.out, facts)
	fmt.Fprint(s.out, "\nWalls are in the order of the line of dance; the lane is how far from the wall its\nmiddle runs. The number of couples is a guide: the limit that the venue posts, local\nrules and those in charge of the floor decide.\n")
	return nil
}

// cornerWords says how the line of dance turns at the end of a wall.
func cornerWords(w answer.Wall) string {
	degrees := math.Round(float64(w.CornerDegrees))
	side := "left"
	if degrees < 0 {
		side, degrees = "right", -degrees
	}
	if degrees == 0 {
		return "straight on"
	}
	words := fmt.Sprintf("%.0f° to the %s", degrees, side)
	if w.AddsEighths != 0 {
		words += fmt.Sprintf(": DW there is %s here", strings.TrimSpace(w.DiagonalToWall))
	}
	return words
}

func obstacleWords(o answer.Obstacle) string {
	if o.Radius > 0 {
		return fmt.Sprintf("%s, round, %.2f m across, at %s", o.Name, 2*float64(o.Radius), strings.TrimSpace(place(o.Centre.X, o.Centre.Y)))
	}
	var corners []string
	for i, p := range o.Outline {
		if i == 6 {
			corners = append(corners, "…")
			break
		}
		corners = append(corners, fmt.Sprintf("%g, %g", float64(p.X), float64(p.Y)))
	}
	return fmt.Sprintf("%s, corners at %s", o.Name, strings.Join(corners, "; "))
}
