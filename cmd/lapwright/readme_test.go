package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/golden"
)

// TestReadme runs every command that README.md shows with an answer, and compares
// the two: what the page shows is what the program says. The commands are run where
// the project's testdata lies beside them, and a block of YAML that begins with the
// name of a file is written there first, as a reader of the page would.
func TestReadme(t *testing.T) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	readme := filepath.Join(root, "README.md")
	defer func(usual time.Duration) { whyTime = usual }(whyTime)
	whyTime = 0 // what is shown depends on no clock
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	for _, name := range []string{"testdata", filepath.Join("figures", "library")} {
		if err := os.CopyFS(filepath.Join(folder, name), os.DirFS(filepath.Join(root, name))); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(folder)
	const begin, end = "```console\n$ lapwright ", "\n```\n"
	var page strings.Builder
	shown, written := 0, 0
	rest := string(data)
	for {
		before, after, found := strings.Cut(rest, begin)
		page.WriteString(before)
		written += writeFiles(t, before)
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
		if out != answer && !*golden.Update {
			t.Errorf("README.md does not show what is said (go test -update keeps it):\n$ lapwright %s\n%s", command, out)
		}
		page.WriteString(begin + command + "\n" + out + end)
		shown++
		rest = more
	}
	if shown < 5 || written < 2 {
		t.Errorf("README.md shows %d commands with their answers and %d files", shown, written)
	}
	if drawing, err := os.ReadFile("weir.svg"); err != nil || !strings.Contains(string(drawing), "Weir Change") {
		t.Errorf("the drawing of README.md is not there: %v", err)
	}
	if *golden.Update {
		if err := os.WriteFile(readme, []byte(page.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// writeFiles writes the files that a piece of the page shows: blocks of YAML whose
// first line is a comment with the file's name. It returns how many there are.
func writeFiles(t *testing.T, piece string) (n int) {
	t.Helper()
	for _, block := range strings.Split(piece, "```yaml\n# ")[1:] {
		text, _, _ := strings.Cut(block, "```\n")
		name, _, _ := strings.Cut(text, "\n")
		if strings.ContainsAny(name, " /") || !strings.HasSuffix(name, ".yaml") {
			continue
		}
		if err := os.WriteFile(name, []byte("# "+text), 0o644); err != nil {
			t.Fatal(err)
		}
		n++
	}
	return n
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
