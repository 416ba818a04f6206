package page_test

import (
	"encoding/json"
	"net/http"
	"slices"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// TestStop asks a search for the best so far.
func TestStop(t *testing.T) {
	at := acting(t, "slow", nil)
	reply := post(t, at.URL+"/do/lap", `{}`)
	var id string
	last := follow(t, reply.Body, func(l line) {
		if l.ID != "" {
			id = l.ID
		}
		if l.Progress != nil {
			if r := post(t, at.URL+"/stop/"+id, `{}`); r.StatusCode != http.StatusNoContent {
				t.Errorf("it is not stopped: %s", r.Status)
			}
		}
	})
	if !last.Stopped || last.Code != 0 || string(last.Answer) != `{"found":true}` {
		t.Errorf("%+v", last)
	}
	if r := post(t, at.URL+"/stop/"+id, `{}`); r.StatusCode != http.StatusNotFound {
		t.Errorf("stopped twice: %s", r.Status)
	}
}

// long is a search that finds a lap after some seconds and goes on for long.
const long = `{"flags": {"room": "clubroom", "level": "all", "style": "all", "count": 5}}`

// TestStopSearch stops a real search once it has a lap: what it answers is that lap, not
// proven, as complete as any.
func TestStopSearch(t *testing.T) {
	if testing.Short() {
		t.Skip("LEFT OUT: it takes some seconds")
	}
	at := server(t, nil)
	reply := post(t, at.URL+"/do/lap", long)
	var id string
	var best float64
	last := follow(t, reply.Body, func(l line) {
		var news struct {
			Best float64
			File string
		}
		switch {
		case l.ID != "":
			id = l.ID
		case l.Progress != nil && json.Unmarshal(l.Progress, &news) == nil && news.File != "" && best == 0:
			best = news.Best
			if r := post(t, at.URL+"/stop/"+id, `{}`); r.StatusCode != http.StatusNoContent {
				t.Errorf("it is not stopped: %s", r.Status)
			}
		}
	})
	var lap struct {
		Found bool
		Laps  []struct{ Routine json.RawMessage }
		Cost  struct{ Total, Bound float64 }
	}
	if err := json.Unmarshal(last.Answer, &lap); err != nil || !last.Stopped || last.Code != 0 {
		t.Fatalf("%v: stopped %v, code %d, %q", err, last.Stopped, last.Code, last.Error)
	}
	if !lap.Found || len(lap.Laps) == 0 || len(lap.Laps[0].Routine) < 1000 || best == 0 || lap.Cost.Total > best {
		t.Errorf("the best so far costs %g bars, told was %g: %.300s", lap.Cost.Total, best, last.Answer)
	}
}

// TestLimits: time that is not enough, and answers that are none, end in a sentence.
func TestLimits(t *testing.T) {
	for _, c := range []struct {
		how, words string
		change     func(*page.Options)
	}{
		{"deaf", "Nothing was found within 1 s", func(o *page.Options) { o.Time = time.Second }},
		{"family", "Nothing was found within 1 s", func(o *page.Options) { o.Time = time.Second }},
		{"loud", "larger than a page can show", nil},
		{"crash", "a fault", nil},
		{"silent", "broke off without a word", nil},
	} {
		t.Run(c.how, func(t *testing.T) {
			var started string
			reply := post(t, acting(t, c.how, c.change).URL+"/do/lap", `{}`)
			got := follow(t, reply.Body, func(l line) {
				if l.Progress != nil {
					started = l.words()
				}
			})
			if !strings.Contains(got.Error, c.words) || got.Code != 2 {
				t.Errorf("%+v", got)
			}
			if started != "" {
				soon(t, "what it started is gone", func() bool { return !lives(started) })
			}
			if n := len(left(t)); n > 0 {
				t.Errorf("%d folders are left", n)
			}
		})
	}
	if got := ask(t, acting(t, "slow", func(o *page.Options) { o.Time = time.Second }), "lap", `{}`); !got.Stopped || got.Answer == nil {
		t.Errorf("when its time is over it shows no best: %+v", got)
	}
}

// TestLimitsOfSearch: a real search that has too little time says so, and one that has too
// little memory.
func TestLimitsOfSearch(t *testing.T) {
	for _, c := range []struct {
		name, body, words string
		change            func(*page.Options)
	}{
		{"time", long, "Nothing was found within 1 s, which is all that a search has here", func(o *page.Options) { o.Time = time.Second }},
		{"memory", `{"flags": {"room": "ballroom", "level": "all", "style": "all"}}`, "more than 60 MB of memory, which is all that it may have here", func(o *page.Options) { o.Memory = 60 }},
	} {
		if got := ask(t, server(t, c.change), "lap", c.body); !strings.Contains(got.Error, c.words) || got.Code != 2 || got.Answer != nil {
			t.Errorf("%s: %+v", c.name, got)
		}
		if n := len(left(t)); n > 0 {
			t.Errorf("%d folders are left", n)
		}
	}
}

// waiting has n commands ask for their turn, one after the other, and follows each.
type waiting struct {
	ids    []string
	places [][]int
	last   []line
	done   chan int
}

func inLine(t *testing.T, at string, n int) *waiting {
	t.Helper()
	w := &waiting{ids: make([]string, n), places: make([][]int, n), last: make([]line, n), done: make(chan int, n)}
	for i := range n {
		entered := make(chan bool)
		reply := post(t, at+"/do/lap", `{}`)
		go func() {
			w.last[i] = follow(t, reply.Body, func(l line) {
				switch {
				case l.ID != "":
					w.ids[i] = l.ID
				case l.Queued != nil:
					w.places[i] = append(w.places[i], *l.Queued)
					if len(w.places[i]) == 1 && *l.Queued > 0 {
						close(entered)
					}
				case i == 0 && l.Progress != nil: // it listens to Ctrl-C
					close(entered)
				}
			})
			w.done <- i
		}()
		<-entered
	}
	return w
}

// TestQueue: commands begin in the order in which they came; those that wait know their
// place; when too many wait, more are refused.
func TestQueue(t *testing.T) {
	at := acting(t, "slow", func(o *page.Options) { o.AtOnce, o.Waiting = 1, 3 })
	w := inLine(t, at.URL, 4)
	for _, path := range []string{"/do/lap", "/make/pdf"} {
		body := `{}`
		if path == "/make/pdf" {
			body = `{"args": ["r.yaml"], "files": {"r.yaml": ""}}`
		}
		full := post(t, at.URL+path, body)
		if got := follow(t, full.Body, nil); full.StatusCode != http.StatusServiceUnavailable || full.Header.Get("Retry-After") == "" ||
			!strings.Contains(got.Error, "too many searches are waiting") || got.Code != 2 {
			t.Errorf("a fifth, %s: %s, %+v", path, full.Status, got)
		}
	}
	if n := len(left(t)); n != 1 {
		t.Errorf("there are %d folders, want that of the one which runs", n)
	}
	// The third gives up while it waits; the fourth moves up.
	post(t, at.URL+"/stop/"+w.ids[2], `{}`)
	for k, want := range []int{2, 0, 1, 3} {
		if k > 0 {
			time.Sleep(200 * time.Millisecond) // it listens to Ctrl-C
			post(t, at.URL+"/stop/"+w.ids[want], `{}`)
		}
		if got := <-w.done; got != want {
			t.Fatalf("number %d ends, want %d", got, want)
		}
	}
	for i, want := range [][]int{{0}, {1, 0}, {2}, {3, 2, 1, 0}} {
		if !slices.Equal(w.places[i], want) {
			t.Errorf("number %d had the places %v, want %v", i, w.places[i], want)
		}
		if w.last[i].Stopped != (i != 2) || i == 2 && w.last[i].Error != "it was stopped before it began" {
			t.Errorf("number %d ends with %+v", i, w.last[i])
		}
	}
}

// TestAtOnce: as many run at once as may.
func TestAtOnce(t *testing.T) {
	at := acting(t, "slow", func(o *page.Options) { o.AtOnce = 3 })
	for range 5 {
		post(t, at.URL+"/do/lap", `{}`)
	}
	soon(t, "three run", func() bool { return len(left(t)) == 3 })
	time.Sleep(300 * time.Millisecond)
	if n := len(left(t)); n != 3 {
		t.Errorf("%d run", n)
	}
}
