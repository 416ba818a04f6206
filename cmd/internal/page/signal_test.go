package page_test

import (
	"os"
	"os/signal"
)

// notified hears Ctrl-C.
func notified() <-chan os.Signal {
	c := make(chan os.Signal, 1)
	signal.Notify(c, os.Interrupt)
	return c
}
