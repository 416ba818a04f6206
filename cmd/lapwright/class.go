package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/classfile"
	"lapwright/figures"
)

// classFlags say which class dances, and how far it has come.
type classFlags struct {
	Class string `group:"Figures:" placeholder:"FILE" help:"Only the figures that this class has been taught; its dance, style, room, stride and tempo hold where nothing else is said (a routine's own file comes first)."`
	Week  string `group:"Figures:" placeholder:"N" help:"With --class: up to this week (the last)."`
}

// chosenClass is a class up to a week.
type chosenClass struct {
	*classfile.Class
	file string
	week int // from 1
}

// choose reads the class; it is nil where none is asked for.
func (f classFlags) choose(library *figures.Library) (*chosenClass, error) {
	if f.Class == "" {
		if f.Week != "" {
			return nil, errors.New("--week is a week of a class: name the class's file with --class")
		}
		return nil, nil
	}
	data, err := readFile(f.Class)
	if err != nil {
		return nil, err
	}
	class, err := classfile.Read(f.Class, data, library)
	if err != nil {
		return nil, err
	}
	c := &chosenClass{class, f.Class, len(class.Weeks)}
	if f.Week != "" {
		n, err := strconv.Atoi(strings.TrimSpace(f.Week))
		if err != nil || n < 1 || n > len(class.Weeks) {
			return nil, fmt.Errorf("--week %s: %s has %s", f.Week, c.title(), c.weeks())
		}
		c.week = n
	}
	return c, nil
}

// weeks are the weeks that a class has, in words.
func (c *chosenClass) weeks() string {
	if len(c.Weeks) == 1 {
		return "week 1 only"
	}
	return fmt.Sprintf("weeks 1 to %d", len(c.Weeks))
}

// title is what the class is called.
func (c *chosenClass) title() string {
	if c.Name != "" {
		return c.Name
	}
	return filepath.Base(c.file)
}

// String is the class and its week in words: "Thursday beginners, week 3 (The corner)".
func (c *chosenClass) String() string {
	words := fmt.Sprintf("%s, week %d", c.title(), c.week)
	if title := c.Weeks[c.week-1].Title; title != "" {
		words += " (" + title + ")"
	}
	return words
}

// answer is the class for JSON; nil where there is none.
func (c *chosenClass) answer() *answer.Class {
	if c == nil {
		return nil
	}
	w := c.Weeks[c.week-1]
	taught := []string{}
	for _, f := range w.Figures {
		taught = append(taught, f.Name)
	}
	return &answer.Class{Name: c.Name, File: c.file, Week: c.week, Title: w.Title, Weeks: len(c.Weeks),
		Note: w.Note, Style: string(c.Style), Room: c.Room, Stride: answer.Number(c.Stride), Tempo: answer.Number(c.Tempo), Taught: taught}
}

// known are the ways of dancing that have been taught, and their names.
func (c *chosenClass) known() (variants []*figures.Variant, names []string) {
	for _, t := range c.Known(c.week) {
		variants, names = append(variants, t.Variants...), append(names, t.Name)
	}
	return variants, names
}

// notTaught says that a figure has not been taught yet, and when it will be.
func (c *chosenClass) notTaught(f *figures.Figure) string {
	words := fmt.Sprintf("%s has not been taught it by week %d", c.title(), c.week)
	for i, w := range c.Weeks {
		if slices.ContainsFunc(w.Figures, func(t classfile.Taught) bool { return t.Variants[0].Figure == f }) {
			return words + fmt.Sprintf("; it comes in week %d", i+1)
		}
	}
	return words
}

// findRoom finds the room that the class dances in.
func (c *chosenClass) findRoom() (chosenRoom, error) {
	room, err := findRoomBeside(c.file, c.Room, "class")
	if err != nil {
		return room, fmt.Errorf("%s: room: %w", c.file, err)
	}
	return room, nil
}

// room is the room of a flag, or else the class's, or else the usual one.
func (c *chosenClass) room(flag string) (chosenRoom, error) {
	if flag == "" && c != nil && c.Room != "" {
		return c.findRoom()
	}
	return findRoom(flag)
}

// stride is the class's, or another where it has none.
func (c *chosenClass) stride(other float64) float64 {
	if c == nil || c.Stride == 0 {
		return other
	}
	return c.Stride
}

// tempo is the class's, or another where it has none.
func (c *chosenClass) tempo(other float64) float64 {
	if c == nil || c.Tempo == 0 {
		return other
	}
	return c.Tempo
}
