package main

import "time"

// stages tells what is being done, on a terminal once it takes more than a second.
type stages struct {
	*progress
	seen bool // somebody is there to see it
}

func (s *session) stages() *stages { return &stages{s.progress(), s.watched()} }

// say tells what is being done from now on.
func (t *stages) say(words string) {
	if t.seen && (t.lines || time.Since(t.began) >= patience) {
		t.show(told{Words: words})
	}
}
