package page_test

import (
	"go/parser"
	"go/token"
	"maps"
	"os/exec"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"lapwright/cmd/internal/page"
)

// TestCommandLine: what becomes of a good request.
func TestCommandLine(t *testing.T) {
	for _, c := range []struct{ command, body, want string }{
		{"lap", `{}`, "lap --json --no-color"},
		{"lap", `null`, "lap --json --no-color"},
		{"lap", `{"flags": {"bars": "24-40", "must": ["Whisk", "Wing"], "level": "bronze"}}`, "lap --json --no-color --bars=24-40 --level=bronze --must=Whisk --must=Wing"},
		{"lap", `{"flags": {"seed": 18446744073709551615, "bars": 24, "stride": 0.7}}`, "lap --json --no-color --bars=24 --seed=18446744073709551615 --stride=0.7"},
		{"lap", `{"flags": {"seed": 12345678}}`, "lap --json --no-color --seed=12345678"},
		{"lap", `{"flags": {"level": "", "week": null, "must": [], "only-library": false}}`, "lap --json --no-color"},
		{"lap", `{"flags": {"level": "--out=x.yaml"}}`, "lap --json --no-color --level=--out=x.yaml"},
		{"lap", `{"flags": {"known": "; rm -rf ~", "room": "studio"}}`, "lap --json --no-color --known=; rm -rf ~ --room=studio"},
		{"check", `{"args": ["r.yaml"], "flags": {"lap": true, "room": "hall.yaml"}, "files": {"r.yaml": "", "hall.yaml": ""}}`, "check --json --no-color --lap --room=hall.yaml -- r.yaml"},
		{"next", `{"flags": {"after": "r.yaml", "bar": 4}, "files": {"r.yaml": ""}}`, "next --json --no-color --after=r.yaml --bar=4"},
		{"drill", `{"flags": {"paper": "letter"}}`, "drill --json --no-color --paper=letter"},
		{"figures", `{"args": ["--out=x"]}`, "figures show --json --no-color -- --out=x"},
		{"rooms", `{"args": ["village hall"]}`, "rooms --json --no-color -- village hall"},
	} {
		line, err := page.CommandLine(c.command, []byte(c.body))
		if got := strings.Join(line, " "); err != nil || got != c.want {
			t.Errorf("%s %s: %v\n%s, want\n%s", c.command, c.body, err, got, c.want)
		}
	}
}

// notAsked are flags that a page may not give: they write files, or are about the terminal.
var notAsked = strings.Fields("help json no-color force out svg pdf html midi wav captions export dot sweep")

// TestFlagsOfProgram: what a page may give to a command are all flags that the program has
// for it, as its help says, but those that write files.
func TestFlagsOfProgram(t *testing.T) {
	flag := regexp.MustCompile(`(?m)^ +(?:-\w, )?--([a-z-]+)(=)?`)
	for name, c := range page.Commands() {
		help, err := exec.Command(program, append(slices.Clone(c.Line), "--help")...).Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		told := map[string]bool{}
		for _, m := range flag.FindAllStringSubmatch(string(help), -1) {
			if !slices.Contains(notAsked, m[1]) {
				told[m[1]] = m[2] == ""
			}
		}
		if !maps.Equal(told, c.Flags) {
			t.Errorf("%s takes here %v, and the program %v (true: no value)", name, c.Flags, told)
		}
	}
}

// TestPackageComment: what is sent and answered has the fields that the package's comment
// tells of, and no others.
func TestPackageComment(t *testing.T) {
	file, err := parser.ParseFile(token.NewFileSet(), "page.go", nil, parser.ParseComments|parser.PackageClauseOnly)
	if err != nil {
		t.Fatal(err)
	}
	comment := file.Doc.Text()
	told := map[string]bool{}
	for _, m := range regexp.MustCompile(`"([a-z]+)":`).FindAllStringSubmatch(comment, -1) {
		told[m[1]] = true
	}
	// In the examples are flags as well, and keys that have no type of their own.
	for _, other := range strings.Fields("bars must lap id queued progress rooms classes routines") {
		if !told[other] {
			t.Errorf("the package's comment does not tell of %q", other)
		}
		delete(told, other)
	}
	for _, shape := range page.Shapes() {
		for _, f := range reflect.VisibleFields(reflect.TypeOf(shape)) {
			name := f.Tag.Get("json")
			if !strings.Contains(comment, `"`+name+`":`) {
				t.Errorf("the package's comment does not tell of %q", name)
			}
			delete(told, name)
		}
	}
	if len(told) > 0 {
		t.Errorf("the package's comment tells of %v, which is not there", slices.Sorted(maps.Keys(told)))
	}
	for name := range page.Commands() {
		if name != "sheet" && name != "track" && !strings.Contains(comment, name) {
			t.Errorf("the package's comment does not name %s", name)
		}
	}
}
