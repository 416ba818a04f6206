package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/golden"
	"lapwright/cmd/internal/routinefile"
	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
)

// call runs the program in this process.
func call(t testing.TB, args ...string) (stdout, stderr string, code int) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(context.Background(), args, &out, &errs)
	return out.String(), errs.String(), code
}

// TestLapReadsBack makes a lap of every built-in room, writes it, and reads it
// back: the routine is equal, and dances the same without a fault.
func TestLapReadsBack(t *testing.T) {
	for _, name := range floors.Names() {
		t.Run(name, func(t *testing.T) {
			c := lapCommand{Room: name, repertoryFlags: repertoryFlags{Dance: "waltz"}}
			q, err := c.question()
			if err != nil {
				t.Fatal(err)
			}
			res, err := search.Find(context.Background(), &q.problem, nil)
			if err != nil || res.Lap == nil {
				t.Fatalf("no lap: %v, %v", res, err)
			}
			file := q.file(res.Lap, "lap.yaml")
			report, err := q.proof(file)
			if err != nil {
				t.Fatal(err)
			}
			data := routinefile.Format(file)
			back, err := routinefile.Read("lap.yaml", data, figures.BuiltIn(), func(name string) (*floors.Room, error) {
				room, err := findRoom(name)
				return room.Room, err
			})
			if err != nil {
				t.Fatalf("%v\n%s", err, data)
			}
			for i := range back.Steps {
				back.Steps[i].Line = 0
			}
			at := *back.Start.At
			if far := at.Sub(*file.Start.At).Len(); far > 1e-4 {
				t.Errorf("it starts %g m from where it did", far)
			}
			back.Start.At, file.Start.At = nil, nil
			if !reflect.DeepEqual(back, file) {
				t.Errorf("read back it is\n%+v\nand was\n%+v", back, file)
			}
			file.Start.At = &at
			again, err := q.proof(file)
			if err != nil || !sameWay(report, again) {
				t.Errorf("it dances another way: %v", err)
			}
		})
	}
}

// TestObjection tells that a lap to which the checker objects is neither shown
// nor written.
func TestObjection(t *testing.T) {
	c := lapCommand{Room: "studio", repertoryFlags: repertoryFlags{Dance: "waltz"}}
	q, err := c.question()
	if err != nil {
		t.Fatal(err)
	}
	res, err := search.Find(context.Background(), &q.problem, nil)
	if err != nil || res.Lap == nil {
		t.Fatal(res, err)
	}
	res.Lap.Steps = res.Lap.Steps[:len(res.Lap.Steps)-1]
	_, err = q.proof(q.file(res.Lap, ""))
	var ours faultOfOurs
	if !errors.As(err, &ours) {
		t.Fatalf("the checker says %v", err)
	}
	var out, errs bytes.Buffer
	s := &session{out: bytes.NewBufferString("half an answer")}
	if code := finish(context.Background(), s, err, &out, &errs); code != exitNo || out.Len() > 0 ||
		!strings.Contains(errs.String(), "internal fault: the checker objects") {
		t.Errorf("exit code %d, shown %q, said %q", code, out.String(), errs.String())
	}
}

// TestStopped tells that a program that is stopped says nothing but that.
func TestStopped(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	folder := t.TempDir()
	var out, errs bytes.Buffer
	code := run(ctx, []string{"lap", "--room", "ballroom", "--out", filepath.Join(folder, "lap.yaml")}, &out, &errs)
	if code != exitStopped || out.Len() > 0 || !strings.Contains(errs.String(), "stopped") {
		t.Errorf("exit code %d, shown %q, said %q", code, out.String(), errs.String())
	}
	if left, _ := os.ReadDir(folder); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// questions are all kinds of JSON answers.
var questions = map[string][]string{
	"lap":          {"lap", "--room", "studio", "--json"},
	"class":        {"lap", "--class", "../../testdata/classes/thursday.yaml", "--week", "2", "--json"},
	"laps":         {"lap", "--room", "studio", "--count", "3", "--json"},
	"no-lap":       {"lap", "--known", "Whisk", "--json"},
	"check":        {"check", "../../testdata/routines/tuesday-class.yaml", "--json"},
	"no-start":     {"check", "testdata/no-start.yaml", "--json"},
	"faults":       {"check", "../../testdata/routines/faulty-class.yaml", "--json"},
	"vary":         {"vary", "../../testdata/routines/taught/spin-turn-at-the-corner.yaml", "--replace", "5-9", "--tolerance", "0.5", "--count", "1", "--json"},
	"next":         {"next", "--room", "studio", "--json"},
	"instead":      {"next", "--after", "../../testdata/routines/tuesday-class.yaml", "--bar", "0", "--json"},
	"ways-out":     {"ways-out", "--room", "studio", "--from", "DC, LF, closed", "--level", "bronze,social", "--json"},
	"teach":        {"teach", "--room", "studio", "--level", "bronze", "--json"},
	"teach-next":   {"teach", "--room", "studio", "--level", "bronze", "--known", "Natural Turn, Whisk", "--json"},
	"teach-course": {"teach", "--room", "studio", "--level", "bronze", "--weeks", "2", "--json"},
	"figures":      {"figures", "--json"},
	"one-figure":   {"figures", "Natural Turn (1-3)", "--json", "--sweep"},
	"own-figures":  {"figures", "check", "testdata/own-figures.yaml", "--json"},
	"torn-figures": {"figures", "check", "testdata/torn-figures.yaml", "--json"},
	"rooms":        {"rooms", "--json"},
	"room":         {"rooms", "clubroom", "--json"},
	"graph":        {"graph", "--json"},
	"drill":        {"drill", "--room", "studio", "--bars", "8", "--json"},
	"sheet":        {"sheet", "../../testdata/routines/wrong-foot.yaml", "--html", "TEMP/sheet.html", "--json"},
	"track":        {"track", "../../testdata/routines/wrong-foot.yaml", "--captions", "TEMP/track.vtt", "--json"},
	"cover":        {"drill", "--room", "studio", "--known", "Natural Turn, Reverse Turn, Right Foot Closed Change, Left Foot Closed Change", "--cover", "figures", "--json"},
}

// TestJSON holds the fields of every answer to what they were, in their order,
// and to having no null where a list is meant.
func TestJSON(t *testing.T) {
	mayBeNull := map[string]bool{"leader": true, "follower": true, "routine": true, "cost": true, "spread": true, "class": true, "repair": true, "nearest_start": true, "cover": true, "growth_rate": true, "instead": true}
	for name, args := range questions {
		t.Run(name, func(t *testing.T) {
			args := slices.Clone(args)
			for i := range args {
				args[i] = strings.Replace(args[i], "TEMP", t.TempDir(), 1)
			}
			out, errs, code := call(t, args...)
			if want := map[string]int{"no-lap": 1, "faults": 1, "sheet": 1, "track": 1, "no-start": 1, "torn-figures": 2}[name]; code != want || errs != "" {
				t.Fatalf("exit code %d, %s", code, errs)
			}
			fields, err := fieldsOf(out, mayBeNull)
			if err != nil {
				t.Fatal(err)
			}
			golden.Text(t, filepath.Join("testdata", "fields", name+".txt"), strings.Join(fields, "\n")+"\n")
		})
	}
}

// fieldsOf lists the paths of all fields of a JSON text, each once, in their order.
func fieldsOf(text string, mayBeNull map[string]bool) ([]string, error) {
	dec := json.NewDecoder(strings.NewReader(text))
	var fields []string
	seen := map[string]bool{}
	var value func(path, name string) error
	value = func(path, name string) error {
		tok, err := dec.Token()
		if err != nil {
			return err
		}
		if tok == nil && !mayBeNull[name] {
			return fmt.Errorf("%s is null", path)
		}
		switch tok {
		case json.Delim('{'):
			for dec.More() {
				key, err := dec.Token()
				if err != nil {
					return err
				}
				at := strings.TrimPrefix(path+"."+key.(string), ".")
				if !seen[at] {
					seen[at] = true
					fields = append(fields, at)
				}
				if err := value(at, key.(string)); err != nil {
					return err
				}
			}
			_, err = dec.Token()
		case json.Delim('['):
			for dec.More() {
				if err := value(path+"[]", ""); err != nil {
					return err
				}
			}
			_, err = dec.Token()
		}
		return err
	}
	return fields, value("", "")
}

// TestJSONAgrees tells that a lap's figures join: each begins where and as the one
// before it ended, unless the next wall is taken.
func TestJSONAgrees(t *testing.T) {
	out, _, code := call(t, "lap", "--json")
	var lap answer.Lap
	if err := json.Unmarshal([]byte(out), &lap); err != nil || code != exitFine {
		t.Fatal(err, code)
	}
	fs := lap.Routine.Figures
	if fs[0].From != lap.Routine.Start {
		t.Errorf("it starts %+v, and the first figure %+v", lap.Routine.Start, fs[0].From)
	}
	bars := 0
	for i, f := range fs {
		bars += f.Bars
		if i == 0 {
			continue
		}
		before := fs[i-1].To
		if f.TakesNextWall {
			before.Wall, before.Alignment = f.From.Wall, f.From.Alignment
		}
		if before != f.From {
			t.Errorf("figure %d ends %+v, and the next begins %+v", i, before, f.From)
		}
	}
	if bars != lap.Routine.Totals.Bars || !lap.Routine.Totals.Closes || !lap.Cost.Proven {
		t.Errorf("%d bars in figures; totals %+v, cost %+v", bars, lap.Routine.Totals, lap.Cost)
	}
	p := lap.Cost.Parts
	if sum := p.Bars + p.Lane + p.Crowding + p.Awkward + p.Repeat + p.Stretch + p.Gap; answer.Number(sum-lap.Cost.Total) > 1e-3 || sum-lap.Cost.Total < -1e-3 {
		t.Errorf("the parts of the cost are %v together, the total is %v", sum, lap.Cost.Total)
	}
}

// TestProgress tells when a word about a search is due.
func TestProgress(t *testing.T) {
	var b bytes.Buffer
	began := time.Unix(0, 0)
	p := &progress{w: &b, began: began}
	p.clear()
	p.tell(began.Add(900*time.Millisecond), search.Progress{Expanded: 1}, nil)
	if b.Len() > 0 {
		t.Errorf("within a second it says %q", b.String())
	}
	p.tell(began.Add(1100*time.Millisecond), search.Progress{Expanded: 16384, Starts: 2, Of: 9, Least: 37.5}, nil)
	if !strings.Contains(b.String(), "16384 ways looked at, start 3 of 9, no lap costs less than 37.50 bars, best so far none yet") {
		t.Errorf("it says %q", b.String())
	}
	said := b.Len()
	p.tell(began.Add(1200*time.Millisecond), search.Progress{Expanded: 20000}, nil)
	if b.Len() != said {
		t.Error("it says more within a fifth of a second")
	}
	p.tell(began.Add(1400*time.Millisecond), search.Progress{Expanded: 20000, Best: 40.25}, nil)
	if !strings.Contains(b.String(), "start 1 of 1, best so far costs 40.25 bars") {
		t.Errorf("it says %q", b.String())
	}
	p.clear()
	if !strings.HasSuffix(b.String(), "\r\x1b[K") {
		t.Error("the line is not taken away")
	}
}

// TestPaint tells that colour is on top of the words.
func TestPaint(t *testing.T) {
	if got := paint(false).warn("room"); got != "room" {
		t.Errorf("without colour: %q", got)
	}
	if got := paint(true).warn("room"); !strings.Contains(got, "room") || got == "room" {
		t.Errorf("with colour: %q", got)
	}
	if got := paint(true).bold(""); got != "" {
		t.Errorf("nothing in colour: %q", got)
	}
}
