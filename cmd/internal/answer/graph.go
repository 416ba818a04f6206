package answer

import (
	"lapwright/figures"
	"lapwright/graph"
)

// Graph is what may follow what.
type Graph struct {
	Class   *Class   `json:"class"` // that has been taught the figures; null where none is named
	Stances []Stance `json:"stances"`
	Joins   []Join   `json:"figures"`
	Corners []Corner `json:"corners"`
	// DeadEnds are stances that no figure and no corner leads out of.
	DeadEnds []Stance `json:"dead_ends"`
	// Parts are the groups of stances within which a couple can go on and on,
	// the largest first.
	Parts [][]Stance `json:"parts"`
}

// Join is a figure danced from a stance.
type Join struct {
	Name string `json:"name"`
	From Stance `json:"from"`
	To   Stance `json:"to"`
	Bars int    `json:"bars"`
}

// Corner is the taking of the next wall's line of dance.
type Corner struct {
	AddsEighths int    `json:"adds_eighths"` // to the alignment, towards the centre positive
	From        Stance `json:"from"`
	To          Stance `json:"to"`
}

// NewGraph is a graph in words, of the figures of a class if there is one.
func NewGraph(g *graph.Graph, class *Class) Graph {
	out := Graph{Class: class, Stances: stances(g.Stances()), Joins: []Join{}, Corners: []Corner{}, DeadEnds: stances(g.DeadEnds()), Parts: [][]Stance{}}
	for _, e := range g.Edges() {
		out.Joins = append(out.Joins, Join{e.Variant.Name(), NewStance(e.From), NewStance(e.To), e.Variant.Bars()})
	}
	for _, c := range g.Corners() {
		out.Corners = append(out.Corners, Corner{c.Eighths, NewStance(c.From), NewStance(c.To)})
	}
	for _, part := range g.Components() {
		out.Parts = append(out.Parts, stances([]figures.Stance(part)))
	}
	return out
}
