package wholefile

import "errors"

// WithoutLinks has every disk know no links until it is undone.
func WithoutLinks() (undo func()) {
	usual := link
	link = func(string, string) error { return errors.New("this disk knows no links") }
	return func() { link = usual }
}
