package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// The page's modules are files of one idea each.
func TestModulesAreSmall(t *testing.T) {
	files, err := filepath.Glob("assets/*.js")
	if err != nil || len(files) < 10 {
		t.Fatal(files, err)
	}
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if lines := strings.Count(string(data), "\n"); lines > 400 {
			t.Errorf("%s has %d lines", path, lines)
		}
	}
}

// What the page keeps for when there is no server are all its files.
func TestKeptFiles(t *testing.T) {
	data, err := os.ReadFile("assets/sw.js")
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("assets/*.*")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range files {
		name := filepath.Base(path)
		if name == "sw.js" || name == "index.html" || strings.Contains(string(data), `"/assets/`+name+`"`) || strings.Contains(string(data), `"`+strings.TrimSuffix(name, ".js")+`"`) {
			continue
		}
		t.Errorf("%s is not among what the page keeps", name)
	}
}

// BenchmarkBrowserFirstPicture tells after how many milliseconds something is painted, and
// after how many the floor is.
func BenchmarkBrowserFirstPicture(b *testing.B) {
	for b.Loop() {
		tab, _ := window(b, 1280, 900, "/")
		tab.wait("something is painted", `performance.getEntriesByName("first-contentful-paint").length`)
		b.ReportMetric(js[float64](tab, `performance.getEntriesByName("first-contentful-paint")[0].startTime`), "first-ms")
		tab.wait("the floor is drawn", `document.querySelector("#lap-hall .walls")`)
		b.ReportMetric(js[float64](tab, `performance.now()`), "floor-ms")
	}
}

// The first picture waits for nothing that is computed: the sheet is there, and can be
// read, while the program has not answered yet.
func TestBrowserFirstPicture(t *testing.T) {
	at := acting(t, "slow", nil)
	b := windowAt(t, at, 1280, 900, "/")
	b.wait("something is painted", `performance.getEntriesByName("first-contentful-paint").length`)
	if words := b.text("#ask"); !strings.Contains(words, "What is asked for") || !strings.Contains(words, "Make a lap") {
		t.Errorf("the sheet: %q", words)
	}
}

// Once loaded, the page opens without its server, shows the lap that was on the sheet and
// plays it; what cannot be asked is told in a sentence.
func TestBrowserOffline(t *testing.T) {
	b, at := window(t, 1280, 900, "/")
	b.studioLap()
	b.wait("the page is kept", `navigator.serviceWorker.ready.then((r) => r.active && r.active.state === "activated")`)
	at.Close()
	b.allow = []string{"ERR_CONNECTION_REFUSED", "Failed to load resource", "network error"}
	b.must("load again", chromedp.Do(b.ctx, chromedp.Navigate(at.URL+"/#lap"), chromedp.Reload()))
	b.wait("the lap is still there", `document.querySelectorAll("#bars .bar-row").length > 5`)
	b.click("#lap-hall .play")
	b.wait("it plays", `document.querySelector("#lap-hall .bar-words").textContent.startsWith("2 of")`)
	b.click("#lap-go")
	b.wait("it is told that there is no server", `document.querySelector("#lap-error").textContent.includes("not running")`)
}

// A window of 360 pixels has one column and nothing that sticks out, on every sheet.
func TestBrowserPhone(t *testing.T) {
	b, _ := window(t, 360, 740, "/")
	b.studioLap()
	for _, screen := range []string{"lap", "room", "class", "practise"} {
		b.click(`.tabs a[data-screen="` + screen + `"]`)
		b.wait(screen+" is shown", `!document.querySelector("#screen-`+screen+`").hidden && document.querySelector("#`+screen+` *, #bars *")`)
		time.Sleep(400 * time.Millisecond)
		if wide := js[float64](b, `document.documentElement.scrollWidth`); wide > 360 {
			t.Errorf("%s is %.0f pixels wide; out stick %v", screen, wide, js[[]string](b, `[...document.querySelectorAll("main *")].filter((e) => e.getBoundingClientRect().right > 361).slice(0, 5).map((e) => e.outerHTML.slice(0, 90))`))
		}
		small := js[[]string](b, `[...document.querySelectorAll("button, select, input, summary, .tabs a")].filter((e) => { const r = e.getBoundingClientRect(), l = e.closest("label"); return r.width && e.checkVisibility() && (Math.min(r.width, r.height) < 24) && !(l && l.getBoundingClientRect().height >= 24); }).map((e) => e.outerHTML.slice(0, 90))`)
		if len(small) > 0 {
			t.Errorf("%s has targets under 24 pixels: %q", screen, small)
		}
	}
}

// Keys alone do the job: the skip link, the tabs, the button for a lap, a bar, another
// figure, play and pause; wherever the focus is, it is seen.
func TestBrowserKeyboard(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	to := func(selector string) {
		t.Helper()
		for range 120 {
			b.keys(kb.Tab)
			if js[bool](b, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
				outline := js[[]string](b, `(() => { const s = getComputedStyle(document.activeElement); return [s.outlineStyle, s.outlineWidth]; })()`)
				if outline[0] == "none" || outline[1] == "0px" {
					t.Errorf("the focus on %s is not seen", selector)
				}
				return
			}
		}
		t.Fatalf("Tab never comes to %s", selector)
	}
	b.keys(kb.Tab)
	if !js[bool](b, `document.activeElement.matches(".skip")`) {
		t.Error("the first stop is no way past the tabs")
	}
	b.keys(kb.Enter)
	to("#lap-room")
	b.keys("s") // Sailmaker's Studio, by its first letter
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Sailmaker")`)
	to("#lap-go")
	b.keys(kb.Enter)
	b.wait("the lap is there", `document.querySelectorAll("#bars .bar-row").length > 5`)
	to("#lap-hall .view")
	b.keys(" ")
	b.wait("it plays", `document.querySelector("#lap-hall").classList.contains("playing")`)
	b.keys(" ")
	b.wait("it pauses", `!document.querySelector("#lap-hall").classList.contains("playing")`)
	b.keys(kb.Home)
	b.keys(kb.ArrowRight)
	if words := b.text("#lap-hall .step-words b"); !strings.HasSuffix(words, ", 2") {
		t.Errorf("a step on from the beginning is %q", words)
	}
	to("#lap-bar")
	b.keys(kb.ArrowRight)
	b.wait("bar 2", `document.querySelector("#lap-hall .bar-words").textContent.startsWith("2 of")`)
	to(".bar-row")
	b.keys(kb.Enter)
	to(".detail button:nth-child(2)")
	b.keys(kb.Enter)
	b.wait("others are listed", `document.querySelectorAll("#bars .choices li").length`)
	to(".choices button")
	b.keys(kb.Enter)
	b.wait("it is there", `!document.querySelector("#undo").disabled`)
	b.must("Ctrl-Z", chromedp.Do(b.ctx, chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))))
	b.wait("it is undone", `document.querySelector("#undo").disabled || !document.querySelector("#redo").disabled`)
}

// Every sheet, in light and in dark, at a desk and on a phone, is looked over by axe-core
// with the rules of WCAG 2.2 A and AA. LAPWRIGHT_AXE names its file, axe.min.js: nothing
// foreign is kept here (npm install axe-core in a folder of your own).
func TestBrowserAccessible(t *testing.T) {
	axe := axeCore(t)
	for _, size := range [][2]int64{{1280, 900}, {360, 740}} {
		for _, dark := range []bool{false, true} {
			b, _ := window(t, size[0], size[1], "/")
			if dark {
				b.dark()
			}
			b.must("axe", chromedp.Do(b.ctx, chromedp.Evaluate[chromedp.Void](axe)))
			b.studioLap()
			b.click("#bars li:nth-child(2) .bar-row")
			b.click("#bars .detail button:nth-child(2)")
			b.wait("others are listed", `document.querySelectorAll("#bars .choices li").length`)
			b.audit(fmt.Sprintf("others, %d pixels, dark %v", size[0], dark))
			b.click("#bars .detail button:nth-child(3)")
			b.wait("ways out are listed", `document.querySelectorAll("#bars .others h5").length`)
			b.audit(fmt.Sprintf("ways out, %d pixels, dark %v", size[0], dark))
			b.write("Natural Turn\nReverse Turn\n")
			js[bool](b, `(document.querySelectorAll("details").forEach((d) => { d.open = true; }), true)`)
			for _, screen := range []string{"lap", "room", "class", "practise"} {
				b.click(`.tabs a[data-screen="` + screen + `"]`)
				b.wait(screen+" is shown", `!document.querySelector("#screen-`+screen+`").hidden && document.querySelector("#`+screen+` *, #bars *")`)
				if screen == "class" {
					b.click("#teach-go")
					b.wait("what is enough", `document.querySelectorAll("#teach .choices li").length`)
				}
				if screen == "practise" {
					b.click("#drill-go")
					b.wait("the drill", `document.querySelectorAll("#drill-calls li").length`)
				}
				time.Sleep(400 * time.Millisecond)
				b.audit(fmt.Sprintf("%s, %d pixels, dark %v", screen, size[0], dark))
			}
			b.click("#drill-call")
			b.wait("the calls", `document.querySelector(".calling").open`)
			b.audit(fmt.Sprintf("calls, %d pixels, dark %v", size[0], dark))
		}
	}
}

// axeCore is axe-core itself, or leaves the test out.
func axeCore(t *testing.T) string {
	t.Helper()
	path := os.Getenv("LAPWRIGHT_AXE")
	if path == "" {
		leftOut(t, "LAPWRIGHT_AXE names no axe.min.js, so axe-core does not look the page over")
	}
	axe, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(axe)
}

// audit reports what axe-core finds.
func (b *tab) audit(what string) {
	b.t.Helper()
	found := js[[]string](b, `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}).then((r) => r.violations.flatMap((v) => v.nodes.slice(0, 3).map((n) => v.id + ": " + n.html.slice(0, 140) + " " + n.failureSummary.slice(0, 240))))`)
	for _, words := range found {
		b.t.Errorf("%s: %s", what, words)
	}
}
