package page

import "bytes"

// CommandLine is the command line for what is sent to a command, as tests see it.
func CommandLine(name string, body []byte) ([]string, error) {
	r, err := readRequest(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	c := commands[name]
	return c.line(r)
}

// Command is a command as tests see it.
type Command struct {
	Line  []string
	Flags map[string]bool // true for those that are given no value
}

// Commands are all that a page may ask for.
func Commands() map[string]Command {
	all := map[string]Command{}
	for name, c := range commands {
		flags := map[string]bool{}
		for flag, v := range c.flags {
			flags[flag] = v == toggle
		}
		all[name] = Command{c.name, flags}
	}
	return all
}

// Shapes are what is sent and answered as JSON.
func Shapes() []any { return []any{request{}, answered{}, failed{}, entry{}} }
