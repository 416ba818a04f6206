// Package search finds laps: chains of figures that take a couple once round a
// room, counter-clockwise, on the floor with both dancers and back to where they
// began.
//
// What lives here: the finite graph of places, walls and stances on a floor's
// lattice, surveys that bound it, A*, beam search for limits that depend on the past, why
// there is no lap, and exact counts of the ways to go on
// ([Problem.Continuations]). What does not: what may follow what (graph), the
// floor itself (floors), and anything that a person sees (the program). Routines
// as data are in search/routine; the checker that every answer goes through is
// search/check.
//
//	res, err := search.Find(ctx, &search.Problem{
//		Room: room, Variants: variants, Couple: figures.DefaultCouple(),
//		Weights: search.DefaultWeights(), Margin: -1,
//	}, nil)
//
// # How a lap is found
//
// A couple's centre stands on whole multiples of 5 cm ([floors.Step]). A layer is
// the part of a lap along one wall; the first wall comes twice, at the start
// and at the end, so that the walls are passed in order. A post is a stance with
// what the cost of the next join depends on. A state is a place in a layer, in a
// post, packed in 32 bits. An edge is a variant from one of its entries at one
// scale of the stride; laid along a wall it has one whole-number displacement
// and a list of probes, which say how much clearance the floor must have where.
// Probes lie on the lattice too, so they ask for up to 7 cm more room than the
// figure takes, and never for less. Costs are whole hundredths of a bar.
package search
