package main

import (
	"fmt"
	"time"
)

// stages tells on a terminal what is being done, once it takes more than a second.
type stages struct {
	*progress
	seen bool // somebody is there to see it
}

func (s *session) stages() *stages {
	return &stages{&progress{w: s.errors, began: time.Now()}, s.terminal}
}

// say tells what is being done from now on.
func (t *stages) say(words string) {
	if t.seen && time.Since(t.began) >= patience {
		t.shown = true
		fmt.Fprint(t.w, clearLine+words)
	}
}
