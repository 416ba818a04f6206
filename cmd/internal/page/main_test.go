package page_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/page"
)

// program is Lapwright, built once for all tests.
var program string

// actAs is the environment variable by which this program acts as a command that is slow.
const actAs = "LAPWRIGHT_PAGE_TEST"

// saveIn is the environment variable that has this program save in a folder for ever.
const saveIn = "LAPWRIGHT_PAGE_SAVE"

func TestMain(m *testing.M) {
	if how := os.Getenv(actAs); how != "" {
		act(how)
		return
	}
	if os.Getenv(saveIn) != "" {
		os.Exit(m.Run()) // a server that is to be killed needs no program
	}
	os.Exit(tested(m))
}

// tested builds the program and runs the tests; its temporary folder is one of its own, so
// that what is left in it can be seen.
func tested(m *testing.M) int {
	folder, err := os.MkdirTemp("", "page-test-*")
	if err != nil {
		fmt.Println(err)
		return 1
	}
	defer os.RemoveAll(folder)
	program = filepath.Join(folder, "lapwright")
	if out, err := exec.Command("go", "build", "-o", program, "lapwright/cmd/lapwright").CombinedOutput(); err != nil {
		fmt.Printf("the program cannot be built: %v\n%s", err, out)
		return 1
	}
	scratch := filepath.Join(folder, "scratch")
	if err := os.Mkdir(scratch, 0o700); err != nil {
		fmt.Println(err)
		return 1
	}
	os.Setenv("TMPDIR", scratch)
	return m.Run()
}

// act is a command that does something a command should not, or slowly.
func act(how string) {
	switch how {
	case "slow": // until it is stopped
		stopped := notified()
		fmt.Fprintf(os.Stderr, `{"progress": {"words": "%d", "best": 12, "least": 10}}`+"\n", os.Getpid())
		<-stopped
		fmt.Println(`{"found": true}`)
		os.Exit(130)
	case "deaf": // even when it is stopped
		notified()
		fmt.Fprintf(os.Stderr, `{"progress": {"words": "%d"}}`+"\n", os.Getpid())
		time.Sleep(time.Minute)
	case "family": // deaf, with a child that is so too and holds its outputs
		notified()
		self, err := os.Executable()
		if err != nil {
			panic(err)
		}
		child := exec.Command(self)
		child.Env = append(os.Environ(), actAs+"=deaf")
		child.Stdout, child.Stderr = os.Stdout, os.Stderr
		if err := child.Start(); err != nil {
			panic(err)
		}
		fmt.Fprintf(os.Stderr, `{"progress": {"words": "%d"}}`+"\n", child.Process.Pid)
		time.Sleep(time.Minute)
	case "loud":
		line := bytes.Repeat([]byte("x"), 1<<20)
		for range 200 {
			if _, err := os.Stdout.Write(line); err != nil {
				os.Exit(1)
			}
		}
	case "crash":
		fmt.Fprintln(os.Stderr, "lapwright: a fault")
		os.Exit(3)
	case "chatty": // more than a connection holds
		notified()
		for i := 0; ; i++ {
			fmt.Fprintf(os.Stderr, `{"progress": {"words": "%s"}}`+"\n", bytes.Repeat([]byte("x"), 100_000))
		}
	case "silent":
		os.Exit(3)
	}
}

// server is a server for a test, with a folder of its own.
func server(t testing.TB, change func(*page.Options)) *httptest.Server {
	t.Helper()
	options := page.Options{Program: program, Folder: filepath.Join(t.TempDir(), "saved")}
	if change != nil {
		change(&options)
	}
	s, err := page.New(options)
	if err != nil {
		t.Fatal(err)
	}
	at := httptest.NewServer(s)
	t.Cleanup(at.Close)
	return at
}

// acting is a server whose commands are this program, acting.
func acting(t testing.TB, how string, change func(*page.Options)) *httptest.Server {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv(actAs, how)
	return server(t, func(o *page.Options) {
		o.Program = self
		if change != nil {
			change(o)
		}
	})
}

// line is one line of an answer.
type line struct {
	ID       string            `json:"id"`
	Queued   *int              `json:"queued"`
	Progress json.RawMessage   `json:"progress"`
	Answer   json.RawMessage   `json:"answer"`
	Code     int               `json:"code"`
	Notes    []string          `json:"notes"`
	Files    map[string]string `json:"files"`
	Stopped  bool              `json:"stopped"`
	Error    string            `json:"error"`
}

// post sends JSON.
func post(t testing.TB, url, body string) *http.Response {
	t.Helper()
	reply, err := http.Post(url, "application/json", strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { reply.Body.Close() })
	return reply
}

// follow reads the lines of an answer; each is shown to see, which may be nil.
func follow(t testing.TB, from io.Reader, see func(line)) (last line) {
	t.Helper()
	lines := bufio.NewScanner(from)
	lines.Buffer(nil, 64<<20)
	for lines.Scan() {
		last = line{}
		if err := json.Unmarshal(lines.Bytes(), &last); err != nil {
			t.Fatalf("%v: %.200s", err, lines.Text())
		}
		if see != nil {
			see(last)
		}
	}
	return last
}

// ask runs a command to its end.
func ask(t testing.TB, at *httptest.Server, command, body string) line {
	t.Helper()
	reply := post(t, at.URL+"/do/"+command, body)
	if reply.StatusCode != http.StatusOK {
		data, _ := io.ReadAll(reply.Body)
		t.Fatalf("%s: %s: %s", command, reply.Status, data)
	}
	return follow(t, reply.Body, nil)
}

// words are those of a line about progress.
func (l line) words() string {
	var news struct{ Words string }
	if json.Unmarshal(l.Progress, &news) != nil {
		return ""
	}
	return news.Words
}

// left are the folders of runs that are still there.
func left(t testing.TB) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join(os.Getenv("TMPDIR"), "lapwright-page-*"))
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// soon waits until something is so.
func soon(t testing.TB, what string, so func() bool) {
	t.Helper()
	for range 400 {
		if so() {
			return
		}
		time.Sleep(25 * time.Millisecond)
	}
	t.Fatalf("after ten seconds it is still not so: %s", what)
}
