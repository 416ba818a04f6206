package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadme runs every command that README.md shows with an answer, and compares
// the two: what the page shows is what the program says.
func TestReadme(t *testing.T) {
	t.Chdir(filepath.Join("..", ".."))
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "```console\n$ lapwright ", "\n```\n"
	var page strings.Builder
	shown := 0
	rest := string(data)
	for {
		before, after, found := strings.Cut(rest, begin)
		page.WriteString(before)
		if !found {
			break
		}
		block, more, ok := strings.Cut(after, end)
		if !ok {
			t.Fatalf("a block of README.md has no end: %.40s", after)
		}
		command, answer, _ := strings.Cut(block, "\n")
		args := quoted(command)
		out, errs, _ := call(t, args...)
		out = strings.TrimRight(errs+out, "\n")
		if out != answer && !*update {
			t.Errorf("README.md does not show what is said (go test -update keeps it):\n$ lapwright %s\n%s", command, out)
		}
		page.WriteString(begin + command + "\n" + out + end)
		shown++
		rest = more
	}
	if shown < 5 {
		t.Errorf("README.md shows %d commands with their answers", shown)
	}
	if *update {
		if err := os.WriteFile("README.md", []byte(page.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// quoted splits a command line at spaces outside quotes.
func quoted(line string) []string {
	var args []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			args = append(args, part)
			continue
		}
		args = append(args, strings.Fields(part)...)
	}
	return args
}
