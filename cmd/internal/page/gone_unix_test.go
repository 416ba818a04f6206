//go:build unix

package page_test

import (
	"bufio"
	"context"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// lives tells whether there is a process of that number that has not ended. A child of a
// command that was killed may be left as a mere entry of the table, until somebody asks
// how it ended.
func lives(number string) bool {
	n, err := strconv.Atoi(number)
	if err != nil {
		return false
	}
	if syscall.Kill(n, 0) != nil {
		return false
	}
	state, err := os.ReadFile("/proc/" + number + "/stat")
	if err != nil {
		_, noProc := os.Stat("/proc/self/stat")
		return noProc != nil
	}
	_, rest, _ := strings.Cut(string(state), ") ")
	return !strings.HasPrefix(rest, "Z")
}

// TestGone: when the browser goes away the command ends, with what it has started, and its
// folder with it.
func TestGone(t *testing.T) {
	for _, how := range []string{"slow", "deaf", "family"} {
		t.Run(how, func(t *testing.T) {
			at := acting(t, how, func(o *page.Options) { o.AtOnce = 1 })
			number, leave := begun(t, at.URL, `{}`)
			if !lives(number) {
				t.Fatalf("process %s does not run", number)
			}
			leave()
			soon(t, "the process is gone", func() bool { return !lives(number) })
			soon(t, "its folder is gone", func() bool { return len(left(t)) == 0 })
			// The next has its turn.
			_, leave = begun(t, at.URL, `{}`)
			leave()
			soon(t, "its folder is gone", func() bool { return len(left(t)) == 0 })
		})
	}
}

// TestGoneWhileWaiting: who waits and goes away is waited for by nobody.
func TestGoneWhileWaiting(t *testing.T) {
	at := acting(t, "slow", func(o *page.Options) { o.AtOnce, o.Waiting = 1, 1 })
	_, first := begun(t, at.URL, `{}`)
	defer first()
	ctx, cancel := context.WithCancel(context.Background())
	second := asked(t, ctx, at.URL, `{}`)
	if full := post(t, at.URL+"/do/lap", `{}`); full.StatusCode != http.StatusServiceUnavailable {
		t.Fatalf("a third: %s", full.Status)
	}
	cancel()
	second.Body.Close()
	soon(t, "there is a place again", func() bool {
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		return asked(t, ctx, at.URL, `{}`).StatusCode == http.StatusOK
	})
}

// TestSearchGone: so does a real search; it is found by the folder in which it runs.
func TestSearchGone(t *testing.T) {
	if _, err := os.Stat("/proc/self/cwd"); err != nil {
		t.Skip("LEFT OUT: this system does not tell where its processes run")
	}
	at := server(t, nil)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	reply := asked(t, ctx, at.URL, long)
	defer reply.Body.Close()
	searches := func() (all []string) {
		links, _ := filepath.Glob("/proc/[0-9]*/cwd")
		for _, link := range links {
			if to, err := os.Readlink(link); err == nil && strings.Contains(to, os.Getenv("TMPDIR")) && strings.Contains(to, "lapwright-page-") {
				all = append(all, filepath.Base(filepath.Dir(link)))
			}
		}
		return all
	}
	soon(t, "it runs", func() bool { return len(searches()) == 1 })
	number := searches()[0]
	time.Sleep(time.Second) // it is in the middle of the search
	cancel()
	began := time.Now()
	soon(t, "it is gone", func() bool { return !lives(number) && len(searches()) == 0 && len(left(t)) == 0 })
	t.Logf("gone after %v", time.Since(began).Round(time.Millisecond))
}

// asked sends a question that can be given up.
func asked(t *testing.T, ctx context.Context, at, body string) *http.Response {
	t.Helper()
	r, err := http.NewRequestWithContext(ctx, http.MethodPost, at+"/do/lap", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	reply, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { reply.Body.Close() })
	return reply
}

// begun asks, waits until the command tells its number as a process, or that of its child,
// and returns it; leave has the browser go away.
func begun(t *testing.T, at, body string) (number string, leave func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	t.Cleanup(cancel)
	reply := asked(t, ctx, at, body)
	lines := bufio.NewScanner(reply.Body)
	for lines.Scan() {
		var l line
		if err := json.Unmarshal(lines.Bytes(), &l); err != nil {
			t.Fatal(err)
		}
		if l.Progress != nil {
			return l.words(), func() { cancel(); reply.Body.Close() }
		}
	}
	t.Fatal("it never begins")
	return "", nil
}
