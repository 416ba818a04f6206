package page_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp/kb"
)

// Drills by minutes, without a room, and as cards on paper.
func TestBrowserDrillsAway(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#practise")
	b.wait("the sheet", `document.querySelector("#drill-go")`)
	b.put("#drill-unit", "minutes")
	if v := js[string](b, `document.querySelector("#drill-bars").value`); v != "1" {
		t.Errorf("%s minutes at first", v)
	}
	b.click("#drill-go")
	b.wait("a drill of a minute", `/^29 bars/.test(document.querySelector("#drill-form .told").textContent)`)
	b.put("#drill-unit", "bars")
	b.put("#drill-bars", "8")
	b.click("#drill-anywhere")
	b.click("#drill-go")
	b.wait("a drill without a room", `/^8 bars/.test(document.querySelector("#drill-form .told").textContent)`)
	if !js[bool](b, `document.querySelectorAll("#drill-calls li").length > 2 && !document.querySelector("#practise .view").checkVisibility()`) {
		t.Error("the calls are not there, or a floor is")
	}
	b.click("#drill-call")
	b.wait("the call mode", `document.querySelector("dialog.calling").open`)
	if js[bool](b, `document.documentElement.scrollHeight > innerHeight && getComputedStyle(document.documentElement).overflowY !== "hidden"`) {
		t.Error("behind the calls the page has a scrollbar still")
	}
	js[bool](b, `(() => { const t = document.querySelector("dialog.calling input[type=range]"); t.value = 60; t.dispatchEvent(new Event("input")); return true; })()`)
	b.click("dialog.calling .main")
	b.wait("the end", `document.querySelector(".call-now").textContent === "The end" && document.querySelector("dialog.calling [role=status]").textContent === "The end."`)
	b.keys("\u001b")
	b.wait("it is closed", `!document.querySelector("dialog.calling").open`)
	if id := js[string](b, `document.activeElement.id`); id != "drill-call" {
		t.Errorf("after the calls the focus is on %q", id)
	}
	b.click("#drill-anywhere")
	folder := t.TempDir()
	call(b, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: "allow", BrowserContextID: b.profile(), DownloadPath: folder, EventsEnabled: new(true)})
	b.put("#drill-cards", "4")
	b.click("#drill-take")
	b.wait("cards", `/^4 cards ready/.test(document.querySelector("#practise .stage-sheet fieldset .told").textContent)`)
	path := filepath.Join(folder, "Drills from 1.pdf")
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		data, err := os.ReadFile(path)
		if err == nil && strings.HasPrefix(string(data), "%PDF-") {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("no cards: %v", err)
		}
	}
	// A drill that cannot be drawn leaves nothing that looks as if it had been.
	b.click("#drill-go")
	b.wait("a drill", `document.querySelectorAll("#drill-calls li").length > 2`)
	b.put("#drill-focus", "Wisk")
	b.click("#drill-go")
	b.wait("a sentence", `/no figure/.test(document.querySelector("#drill-form .told").textContent)`)
	if n := js[int](b, `document.querySelectorAll("#drill-calls li").length`); n != 0 || !js[bool](b, `document.querySelector("#drill-call").disabled`) {
		t.Errorf("%d calls of an old drill stand still", n)
	}
}

// Files of the machine are opened – a room, a class, a routine – and given back as they
// were; what is no such file is told in a sentence.
func TestBrowserFiles(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#room")
	b.allow = []string{"status of 4"}
	folder := t.TempDir()
	write := func(name, words string) string {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, []byte(words), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	// give presses the button and chooses a file in what the browser asks then.
	give := func(sheet, path string) {
		t.Helper()
		b.wait(sheet, `document.querySelector("`+sheet+` .keeper .from")`)
		js[bool](b, `(window.click0 ??= HTMLInputElement.prototype.click, HTMLInputElement.prototype.click = function () { if (this.type === "file") { this.id = "given"; document.body.append(this); this.hidden = true; } else window.click0.call(this); }, document.querySelectorAll("#given").forEach((e) => e.remove()), true)`)
		b.click(sheet + " .keeper .from")
		b.wait("a file is asked for", `document.querySelector("#given")`)
		id := call(b, runtime.Evaluate, runtime.EvaluateParams{Expression: `document.querySelector("#given")`})
		call(b, dom.SetFileInputFiles, dom.SetFileInputFilesParams{Files: []string{path}, ObjectID: id.Result.ObjectID})
	}
	told := func(sheet, words string) {
		t.Helper()
		b.wait(words, `document.querySelector("`+sheet+` .keeper .told").textContent.includes(`+quoted(words)+`)`)
	}
	give("#room", write("boathouse.yaml", "name: The boathouse\noutline: [[0, 0], [16, 0], [16, 10], [0, 10]]\n"))
	told("#room", "“boathouse” is open. It is not saved here yet.")
	b.wait("it is the room", `document.querySelector("#now").textContent.includes("The boathouse") && document.querySelector("#rooms-name").value === "boathouse"`)
	give("#room", write("no-room.yaml", "name: Nothing\n"))
	told("#room", "This room cannot be opened.")
	give("#room", write("picture.yaml", "\xff\xfe\x00"))
	told("#room", "is not a file of text")

	js[bool](b, `(location.hash = "#class", true)`)
	give("#class", write("quay.yaml", "name: Quay class\nweeks:\n  - [Natural Turn, Right Foot Closed Change]\n  - [Reverse Turn, Left Foot Closed Change]\n"))
	told("#class", "“quay” is open")
	b.wait("it is the class", `document.querySelector("#class-name").value === "Quay class" && document.querySelectorAll("#class .weeks li").length === 2`)
	call(b, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: "allow", BrowserContextID: b.profile(), DownloadPath: folder, EventsEnabled: new(true)})
	b.put("#classes-name", "taken")
	b.click("#class .keeper .to")
	told("#class", "taken.yaml is ready")
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(50 * time.Millisecond) {
		data, err := os.ReadFile(filepath.Join(folder, "taken.yaml"))
		if err == nil && strings.Contains(string(data), "Reverse Turn") {
			break
		}
		if time.Now().After(end) {
			t.Fatalf("no file: %v", err)
		}
	}
	js[bool](b, `(location.hash = "#lap", true)`)
	b.unfold("#write-fold")
	give("#write", write("evening.yaml", "name: Evening\nroom: studio\nfigures: [Natural Turn, Right Foot Closed Change]\n"))
	b.wait("it is danced", `document.querySelectorAll("#bars .bar-row").length === 2`)
}

// Words of a drill that is not asked for any more do not stay: not where the browser holds
// a form back, nor in another room, nor for another couple.
func TestBrowserDrillOld(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#practise")
	b.wait("the sheet", `document.querySelector('#drill-room option[value="b:studio"]')`)
	calls := `document.querySelectorAll("#drill-calls li").length`
	drawn := func() {
		t.Helper()
		b.click("#drill-go")
		b.wait("a drill", calls)
	}
	gone := func(why string) {
		t.Helper()
		b.wait(why, `!`+calls+` && !document.querySelector("#drill-form .told").textContent && document.querySelector("#drill-call").disabled`)
	}
	drawn()
	b.put("#drill-bars", "161")
	b.click("#drill-go")
	gone("161 bars are held back")
	b.put("#drill-unit", "minutes")
	b.put("#drill-bars", "0.5")
	b.click("#drill-go")
	b.wait("half a minute", `/^15 bars/.test(document.querySelector("#drill-form .told").textContent) || /^14 bars/.test(document.querySelector("#drill-form .told").textContent)`)
	b.put("#drill-room", "b:studio")
	gone("another room")
	b.put("#drill-unit", "bars")
	b.put("#drill-cards", "2")
	b.click("#drill-take")
	b.wait("cards", `/^2 cards ready/.test(document.querySelector("#practise fieldset .told").textContent)`)
	drawn()
	if words := b.text("#practise fieldset .told"); words != "" {
		t.Errorf("cards of before: %q", words)
	}
	b.put("#drill-cards", "25")
	b.click("#drill-take")
	b.wait("25 cards are held back", `document.activeElement.id === "drill-cards"`)
	if !js[bool](b, calls+` > 2`) || b.text("#practise fieldset .told") != "" {
		t.Error("the drill is gone for the number of its cards, or old words stand")
	}
	b.click("#drill-anywhere")
	gone("no room")
	if !js[bool](b, `document.querySelector("#drill-room").disabled && !document.querySelector("#practise .view").checkVisibility()`) {
		t.Error("a room is asked for where there is none")
	}
	drawn()
	js[bool](b, `(location.hash = "#class", true)`)
	b.click(`#class input[value="silver"]`)
	js[bool](b, `(location.hash = "#practise", true)`)
	gone("another couple")
}

// The calls are read at every width: nothing is cut or overlaps, what is pressed is large
// enough (WCAG 2.2, 2.5.8: 24 pixels), and Escape gives the focus back. Next drills come by
// N, by an arrow and by a tap; where there is none it is said.
func TestBrowserCalls(t *testing.T) {
	for _, size := range [][2]int64{{360, 740}, {740, 360}, {2560, 1440}} {
		b, _ := window(t, size[0], size[1], "/#practise")
		if size[0] != 360 {
			b.dark()
		}
		b.wait("the sheet", `document.querySelector('#drill-room option[value="b:studio"]')`)
		b.put("#drill-bars", "4")
		b.click("#drill-next")
		b.wait("a drill", `document.querySelectorAll("#drill-calls li").length > 1`)
		b.click("#drill-call")
		b.wait("the calls", `document.querySelector(".calling").open`)
		said := func(words string) {
			t.Helper()
			b.wait(words, `document.querySelector(".calling [role=status]").textContent === `+quoted(words)+` && document.querySelector("#call-next").ariaDisabled !== "true"`)
		}
		b.keys("n")
		said("Drill 3, 4 bars.")
		b.keys(kb.ArrowRight)
		said("Drill 4, 4 bars.")
		b.click(".call-now")
		said("Drill 5, 4 bars.")
		js[bool](b, `(document.querySelector(".call-then").textContent = "next: Progressive Twinkles to Promenade and Counter Promenade (first half)", true)`)
		if bad := js[[]string](b, `[...document.querySelectorAll(".calling button, .calling input")].map((e) => [e, (e.closest("label") || e).getBoundingClientRect()]).filter(([, r]) => r.width < 24 || r.height < 24 || r.left < 0 || r.right > innerWidth).map(([e]) => e.outerHTML.slice(0, 80))`); len(bad) > 0 {
			t.Errorf("%v: %v", size, bad)
		}
		if bad := js[[]string](b, `(() => {
			const all = [...document.querySelector(".call-page").children].filter((e) => !e.matches(".unseen") && e.getBoundingClientRect().height);
			return all.flatMap((e, i) => (i && e.getBoundingClientRect().top < all[i - 1].getBoundingClientRect().bottom - 0.5) || e.scrollWidth > e.clientWidth + 1 ? [e.className] : []);
		})()`); len(bad) > 0 {
			t.Errorf("%v: these overlap or are cut: %v", size, bad)
		}
		if wide := js[float64](b, `document.querySelector(".call-page").scrollWidth - innerWidth`); wide > 0 {
			t.Errorf("%v: %.0f pixels beside the window", size, wide)
		}
		if !js[bool](b, `getComputedStyle(document.documentElement).overflowY === "hidden"`) {
			t.Errorf("%v: the page behind has its scrollbar", size)
		}
		js[bool](b, `(document.querySelector("#drill-focus").value = "Wisk", true)`)
		b.keys("n")
		b.wait("no next drill", `/^There is no next drill. .*Wisk/.test(document.querySelector(".calling [role=alert]").textContent)`)
		b.keys(kb.Escape)
		b.wait("the focus is where a drill is drawn", `!document.querySelector(".calling").open && document.activeElement.id === "drill-go"`)
		b.put("#drill-focus", "")
		b.click("#drill-go")
		b.wait("a drill", `document.querySelectorAll("#drill-calls li").length > 1`)
		b.click("#drill-call")
		b.click(".call-foot .main")
		b.wait("it fills the screen", `document.fullscreenElement === document.querySelector(".call-page")`)
		js[bool](b, `(document.exitFullscreen(), true)`) // as the browser does by Escape
		b.wait("it is closed, and the focus is back", `!document.querySelector(".calling").open && document.activeElement.id === "drill-call" && getComputedStyle(document.documentElement).overflowY !== "hidden"`)
	}
}
