// Package export writes the finite graph of laps with the limits on a lap as plain
// text that any solver can be fed with, and reads it back.
//
// What lives here: the form and its words. What does not: the graph itself (package
// network), how a room becomes one (package search), and other solvers (package
// compare). A first use is in the examples.
//
// # The form
//
// The file is text in UTF-8, one thing a line; words and numbers stand apart by spaces,
// and spaces at the beginning of a line do not count. Empty lines and lines that begin
// with # are passed over. All numbers are whole and written in digits. The parts come
// in this order:
//
//	lapwright network 1                      the form and its version
//	name Studio, bronze                      what it is, in any words; may be left out
//	cutoff 1573                              every lap that costs no more is in the graph
//	figure 0 Natural Turn                    the figures, numbered from 0
//	class 0 turns to the left                sets of figures, numbered from 0, at most 64
//	way 0 figure 0 bars 2 right class 0 3    the ways of dancing, numbered from 0
//	limit most bars 20                       the limits; see below
//	nodes 3 end 2                            how many nodes follow, and which is the end
//	node 0 wall 0 source                     a node, numbered from 0
//	  to 1 way 0 cost 211                    an arc that leaves it
//	  to 2 closes cost 4
//	node 1 wall 0
//	  to 2 closes cost 0
//	node 2
//
// Costs are in hundredths of a bar. A lap is a path from any node marked source to the
// end, and costs what its arcs cost together. An arc is a figure danced, in the way that it names, or, where it
// leads to the end, nothing danced: it closes the lap. A way takes so many bars of the
// music; right tells that the figure turns to the right in all, and class names the sets
// to which it belongs. The wall of a node is the number of that along which the figures
// are danced that lead to it; where none do, it may be left out.
//
// The first figure of a lap begins in bar 1, and each of the others in the bar after
// the last of the one before. The limits are:
//
//	limit least bars 20            the lap takes no fewer bars
//	limit most bars 40             and no more
//	limit phrase 8                 the number of bars is a multiple of 8
//	limit uses 3                   no figure is danced more often
//	limit apart 4                  a figure begins again no fewer than 4 bars after it began
//	limit different 8              no fewer figures are danced, each counted once
//	limit right turns 4            no more figures that turn to the right follow each other
//	limit class 0 most 2           the figures of class 0 are danced no more often, all together
//	limit must figure 3            the figure is danced
//	limit order figure 3 figure 5  before figure 5 begins, figure 3 has been danced
//	limit fixed figure 3 bar 9     the figure begins in bar 9;
//	limit fixed figure 3 bar 9 wall 2    along wall 2, if one is named
//
// The last four of these may be given several times.
package export

import (
	"lapwright/search/label"
	"lapwright/search/network"
)

// Instance is a graph of laps with the limits on a lap.
type Instance struct {
	// Name says what it is, in one line; it may be empty.
	Name string
	// Network is the graph.
	Network *network.Network
	// Figures are the names of the network's figures, by number.
	Figures []string
	// Classes are the names of the classes of figures, by their bit in
	// [network.Way.Classes]; 64 at most.
	Classes []string
	Limits  label.Limits
}
