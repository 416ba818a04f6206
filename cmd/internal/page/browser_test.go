package page_test

import (
	"context"
	"fmt"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"

	"lapwright/cmd/internal/outside"
	"lapwright/cmd/internal/page"
)

// The page is tested in a real browser: Chromium, from LAPWRIGHT_BROWSER or the path.
// Without one these tests say that they are left out.

var browser struct {
	once sync.Once
	ctx  context.Context
	why  string // why there is none
	end  func()
}

// startBrowser starts one browser for all tests; each test has a profile of its own in it.
func startBrowser() {
	path := os.Getenv("LAPWRIGHT_BROWSER")
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path == "" {
			path, _ = exec.LookPath(name)
		}
	}
	if path == "" {
		browser.why = "no Chromium is installed (and LAPWRIGHT_BROWSER names none), so the page is not tried in a browser"
		return
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path))
	if os.Geteuid() == 0 { // the browser's own confinement does not work for root
		options = append(options, chromedp.NoSandbox)
	}
	all, endAll := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, end := chromedp.NewContext(all)
	if err := chromedp.Do(ctx); err != nil {
		browser.why = fmt.Sprintf("Chromium does not start, so the page is not tried in a browser: %v", err)
		return
	}
	browser.ctx, browser.end = ctx, func() { end(); endAll() }
}

// leftOut says that a test is left out; where everything is asked for, that is a fault.
func leftOut(t testing.TB, why string) {
	t.Helper()
	if os.Getenv(outside.All) != "" {
		t.Fatal(why)
	}
	t.Skip("LEFT OUT: " + why)
}

// endBrowser ends it when all tests are done.
func endBrowser() {
	if browser.end != nil {
		browser.end()
	}
}

// tab is a window with the page.
type tab struct {
	t   testing.TB
	ctx context.Context
	at  string

	mu       sync.Mutex
	asked    []string // addresses
	troubles []string // what the browser complains of
	// allow are parts of complaints that are no trouble in this test.
	allow []string
}

// window opens the page of a new server in a window of a size.
func window(t testing.TB, wide, high int64, path string) (*tab, *httptest.Server) {
	t.Helper()
	at := server(t, func(o *page.Options) { o.Waiting = 64 })
	return windowAt(t, at, wide, high, path), at
}

func windowAt(t testing.TB, at *httptest.Server, wide, high int64, path string) *tab {
	t.Helper()
	browser.once.Do(startBrowser)
	if browser.ctx == nil {
		leftOut(t, browser.why)
	}
	ctx, end := chromedp.NewContext(browser.ctx, chromedp.WithNewBrowserContext())
	ctx, stop := context.WithTimeout(ctx, 4*time.Minute)
	b := &tab{t: t, ctx: ctx, at: at.URL}
	t.Cleanup(func() { stop(); end() })
	b.must("start", chromedp.Do(ctx))
	b.must("listen", chromedp.Listen(ctx, b.hear))
	call(b, network.Enable, network.EnableParams{})
	call(b, runtime.Enable, cdp.Empty{})
	call(b, cdplog.Enable, cdp.Empty{})
	t.Cleanup(b.verdict)
	b.must("open", chromedp.Do(ctx, chromedp.EmulateViewport(wide, high), chromedp.Navigate(at.URL+path)))
	call(b, cdppage.BringToFront, cdp.Empty{}) // what lies behind is not always drawn
	b.wait("the page has begun", `document.querySelector("#now") && document.querySelector("#now").textContent.includes("·")`)
	return b
}

func call[P, R any](b *tab, command cdp.Command[P, R], with P) R {
	b.t.Helper()
	r, err := chromedp.Call(b.ctx, command, with)
	b.must("the browser", err)
	return r
}

// hear notes what is asked for and what the browser complains of.
func (b *tab) hear(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := ev.(type) {
	case *network.EventRequestWillBeSent:
		b.asked = append(b.asked, e.Request.URL)
	case *runtime.EventExceptionThrown:
		words := e.ExceptionDetails.Text
		if e.ExceptionDetails.Exception != nil {
			words += " " + e.ExceptionDetails.Exception.Description
		}
		b.troubles = append(b.troubles, words)
	case *cdplog.EventEntryAdded:
		if e.Entry.Level == "error" {
			b.troubles = append(b.troubles, e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

// verdict is for every test: no request has left the machine, and the browser has not
// complained, of the page's own rules least of all.
func (b *tab) verdict() {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, address := range b.asked {
		u, err := url.Parse(address)
		if err != nil || (u.Scheme != "blob" && u.Scheme != "data" && u.Scheme+"://"+u.Host != b.at) {
			b.t.Errorf("a request leaves the machine: %.200s", address)
		}
	}
	for _, words := range b.troubles {
		fine := false
		for _, part := range b.allow {
			fine = fine || strings.Contains(words, part)
		}
		if !fine {
			b.t.Errorf("the browser complains: %.400s", words)
		}
	}
}

func (b *tab) must(what string, err error) {
	b.t.Helper()
	if err != nil {
		b.t.Fatalf("%s: %v", what, err)
	}
}

// js is the value of an expression, which may be awaited.
func js[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T]("(async () => ("+expression+"))()", chromedp.EvalAwaitPromise))
	b.must(expression, err)
	return v
}

// wait waits until an expression is true.
func (b *tab) wait(what, expression string) {
	b.t.Helper()
	end := time.Now().Add(90 * time.Second)
	for !js[bool](b, "Boolean("+expression+")") {
		if time.Now().After(end) {
			b.t.Fatalf("waited for: %s (%s); the page says: %s", what, expression, js[string](b, `document.querySelector("main").innerText.slice(0, 1500)`))
		}
		time.Sleep(40 * time.Millisecond)
	}
}

// click presses the mouse on what a selector names, as a person would.
func (b *tab) click(selector string) {
	b.t.Helper()
	at := js[[]float64](b, fmt.Sprintf(`(async () => {
		let was = "", why = "there is none";
		for (let i = 0; i < 150; i++) {
			const e = document.querySelector(%q);
			if (e) {
				e.scrollIntoView({block: "center"});
				const r = e.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2;
				const on = document.elementFromPoint(x, y), now = x + "," + y;
				if (on && (e.contains(on) || on.contains(e)) && now === was && !e.disabled) return [x, y];
				why = (e.disabled ? "disabled " : "") + [x, y] + " of " + [innerWidth, innerHeight] + " is " + (on ? on.outerHTML.slice(0, 120) : "nothing");
				was = now;
			}
			await new Promise((done) => setTimeout(done, 60));
		}
		throw new Error("it cannot be pressed: " + why);
	})()`, selector))
	b.must("click "+selector, chromedp.Do(b.ctx, chromedp.MouseClickXY(at[0], at[1])))
}

// put writes into a field and tells the page.
func (b *tab) put(selector, words string) {
	b.t.Helper()
	js[bool](b, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.focus(); e.value = %q; e.dispatchEvent(new Event("input", {bubbles: true})); e.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, selector, words))
}

// keys presses keys.
func (b *tab) keys(keys string) {
	b.t.Helper()
	b.must("keys", chromedp.Do(b.ctx, chromedp.KeyEvent(keys)))
}

// text is what an element says.
func (b *tab) text(selector string) string {
	b.t.Helper()
	return js[string](b, fmt.Sprintf(`document.querySelector(%q).innerText`, selector))
}

// bars is how many figures the list of bars has.
func (b *tab) bars() int {
	b.t.Helper()
	return js[int](b, `document.querySelectorAll("#bars .bar-row").length`)
}

// studioLap asks for a lap of the small room, which is found at once.
func (b *tab) studioLap() {
	b.t.Helper()
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	b.put("#lap-room", "b:studio")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Sailmaker")`)
	b.click("#lap-go")
	b.wait("the lap is there", `document.querySelectorAll("#bars .bar-row").length > 5`)
}

// unfold opens what is folded, and waits until it is painted.
func (b *tab) unfold(selector string) {
	b.t.Helper()
	js[bool](b, fmt.Sprintf(`(document.querySelector(%q).open = true, new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true)))))`, selector))
}

// write has a routine danced that is typed.
func (b *tab) write(words string) {
	b.t.Helper()
	b.unfold("#write-fold")
	b.put("#routine-text", words)
	b.click(`#write button[type="submit"]`)
	b.wait("it is danced", `/fault|line|there is/.test(document.querySelector("#write .told").textContent.toLowerCase())`)
}

// dark has the system ask for dark colours.
func (b *tab) dark() {
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
}

// profile is the tab's own profile in the browser.
func (b *tab) profile() cdp.BrowserContextID {
	b.t.Helper()
	return call(b, target.GetTargetInfo, target.GetTargetInfoParams{}).TargetInfo.BrowserContextID
}
