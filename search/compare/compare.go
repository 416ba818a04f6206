// Package compare puts the graph of laps to a solver that nobody here wrote: clingo,
// an answer-set solver, which must come with the system.
//
// What lives here: the encodings, an instance as facts for them, a run of the solver, and
// the tables of a comparison. What does not: our own search and the form in which instances
// are exported (package export). The comparison itself is a test of package search that is
// run only when it is asked for:
//
//	go test -tags compare -run Compare -timeout 3h -v ./search -update
//
// It fails where two solvers do not agree, and with -update it writes the tables into
// README.md.
package compare
