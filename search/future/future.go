// Package future says what can become of a couple that stands somewhere in a room: from
// where dancing can go on for ever, how many ways there are through the next bars, and
// after how many bars a choice runs out of room.
//
// What lives here: the set of the states from which dancing can go on for ever
// ([Alive]), and what is counted with it. What does not: the states themselves and the
// figures that lead from one to the next ([search.States]), laps (package search) and
// anything that a person sees (the program).
package future
