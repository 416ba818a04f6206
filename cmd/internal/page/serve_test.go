package page_test

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// served is a server as lapwright page has it, until end is called; ended tells when it has.
func served(t testing.TB, how string, change func(*page.Options)) (at string, end func(), ended chan error) {
	t.Helper()
	options := page.Options{Program: program, Folder: filepath.Join(t.TempDir(), "saved")}
	if how != "" {
		self, err := os.Executable()
		if err != nil {
			t.Fatal(err)
		}
		t.Setenv(actAs, how)
		options.Program = self
	}
	if change != nil {
		change(&options)
	}
	s, err := page.New(options)
	if err != nil {
		t.Fatal(err)
	}
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended = make(chan error, 1)
	go func() { ended <- s.Serve(ctx, listener) }()
	t.Cleanup(cancel)
	return "http://" + listener.Addr().String(), cancel, ended
}

// hasEnded waits until a server has ended, and looks at what is left of it.
func hasEnded(t *testing.T, ended chan error) {
	t.Helper()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(4 * page.Grace):
		t.Fatal("it does not end")
	}
	if n := len(left(t)); n > 0 {
		t.Errorf("%d folders are left", n)
	}
}

// TestServe: a server that is to end lets a search show the best so far, tells those who
// wait that they will not begin, and ends.
func TestServe(t *testing.T) {
	at, end, ended := served(t, "slow", func(o *page.Options) { o.AtOnce = 1 })
	w := inLine(t, at, 3)
	end()
	for range 3 {
		<-w.done
	}
	if !w.last[0].Stopped || w.last[0].Answer == nil {
		t.Errorf("the one that runs: %+v", w.last[0])
	}
	for _, l := range w.last[1:] {
		if l.Error != "it was stopped before it began" {
			t.Errorf("one that waits: %+v", l)
		}
	}
	hasEnded(t, ended)
	if _, err := http.Get(at); err == nil {
		t.Error("it still answers")
	}
}

// TestServeKills: what does not end when it is asked to is killed.
func TestServeKills(t *testing.T) {
	for _, how := range []string{"deaf", "family"} {
		at, end, ended := served(t, how, nil)
		reply := post(t, at+"/do/lap", `{}`)
		var number string
		last := follow(t, reply.Body, func(l line) {
			if l.Progress != nil {
				number = l.words()
				end()
			}
		})
		if last.Error != "It was stopped before anything was found." {
			t.Errorf("%+v", last)
		}
		hasEnded(t, ended)
		soon(t, "what it started is gone", func() bool { return number != "" && !lives(number) })
	}
}

// TestServeUnused: a connection that a browser has opened and does not use holds up nobody.
func TestServeUnused(t *testing.T) {
	at, end, ended := served(t, "", nil)
	c, err := net.Dial("tcp", strings.TrimPrefix(at, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	post(t, at+"/do/rooms", `{}`)
	end()
	select {
	case <-ended:
	case <-time.After(page.Grace - time.Second):
		t.Error("it waits for the connection")
	}
}

// TestLeftByKilled: folders of a server that was killed are taken away by a later one,
// and those that may be in use are not.
func TestLeftByKilled(t *testing.T) {
	old, young, other := filepath.Join(os.Getenv("TMPDIR"), "lapwright-page-1"), filepath.Join(os.Getenv("TMPDIR"), "lapwright-page-2"), filepath.Join(os.Getenv("TMPDIR"), "letters")
	for _, path := range []string{old, young, other} {
		if err := os.Mkdir(path, 0o700); err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(path)
		if path != young {
			before := time.Now().Add(-2 * time.Hour)
			if err := os.Chtimes(path, before, before); err != nil {
				t.Fatal(err)
			}
		}
	}
	at, _, _ := served(t, "", nil)
	if _, err := http.Get(at); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]bool{old: false, young: true, other: true} {
		if _, err := os.Stat(path); (err == nil) != want {
			t.Errorf("%s: %v", filepath.Base(path), err)
		}
	}
}

// slowly opens a connection and sends the beginning of a question, or all of it.
func slowly(t *testing.T, at, body string, length int) net.Conn {
	t.Helper()
	c, err := net.Dial("tcp", strings.TrimPrefix(at, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	c.(*net.TCPConn).SetReadBuffer(4096)
	fmt.Fprintf(c, "POST /do/lap HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n%s", length, body)
	return c
}

// TestSlowToSend: browsers that are slow to say what they want hold nobody up, and are
// given up in the end.
func TestSlowToSend(t *testing.T) {
	at, _, _ := served(t, "", func(o *page.Options) { o.Sending = time.Second })
	var slow []net.Conn
	for range 20 {
		slow = append(slow, slowly(t, at, "{", 100))
	}
	if got := follow(t, post(t, at+"/do/rooms", `{}`).Body, nil); got.Error != "" || got.Answer == nil {
		t.Errorf("%+v", got)
	}
	for _, c := range slow {
		c.SetReadDeadline(time.Now().Add(20 * time.Second))
		said, err := io.ReadAll(c)
		if err != nil || !strings.Contains(string(said), " 408 ") || !strings.Contains(string(said), "came too slowly") {
			t.Fatalf("%v: %q", err, said)
		}
	}
}

// TestSlowToRead: a browser that does not read what it asked for is given up, and the next
// has its turn.
func TestSlowToRead(t *testing.T) {
	at, _, _ := served(t, "chatty", func(o *page.Options) { o.AtOnce, o.Reading = 1, time.Second })
	slowly(t, at, "{}", 2)
	soon(t, "it runs", func() bool { return len(left(t)) == 1 })
	soon(t, "it is given up", func() bool { return len(left(t)) == 0 })
	reply := post(t, at+"/do/lap", `{}`)
	if data := make([]byte, 1); reply.StatusCode != http.StatusOK {
		t.Error(reply.Status)
	} else if _, err := reply.Body.Read(data); err != nil {
		t.Error(err)
	}
	reply.Body.Close()
	soon(t, "its folder is gone", func() bool { return len(left(t)) == 0 })
}

// TestLong: a command may take longer than a browser may to send a request or to read a
// line, and a browser that goes away then is still seen to.
func TestLong(t *testing.T) {
	at, _, _ := served(t, "slow", func(o *page.Options) {
		o.AtOnce, o.Sending, o.Reading = 1, 300*time.Millisecond, 300*time.Millisecond
	})
	w := inLine(t, at, 2)
	time.Sleep(time.Second)
	post(t, at+"/stop/"+w.ids[0], `{}`)
	<-w.done
	time.Sleep(time.Second)
	post(t, at+"/stop/"+w.ids[1], `{}`)
	<-w.done
	for _, l := range w.last {
		if !l.Stopped || l.Answer == nil {
			t.Errorf("%+v", l)
		}
	}
	c := slowly(t, at, "{}", 2)
	soon(t, "it runs", func() bool { return len(left(t)) == 1 })
	time.Sleep(time.Second)
	c.Close()
	soon(t, "its folder is gone", func() bool { return len(left(t)) == 0 })
}

// TestAssetsAreSmall: all files of the page together.
func TestAssetsAreSmall(t *testing.T) {
	sum := int64(0)
	err := filepath.Walk("assets", func(_ string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() {
			sum += info.Size()
		}
		return err
	})
	if err != nil || sum > 500_000 || sum < 1000 {
		t.Errorf("%v: the page's files have %d bytes; 500,000 are the most", err, sum)
	}
}
