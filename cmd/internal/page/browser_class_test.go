package page_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// With a natural turn and a right foot closed change alone nobody gets round the village
// hall; what comes next opens a lap, as lapwright teach says, and can be ticked.
func TestBrowserTeachNext(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#class")
	b.wait("the class's sheet", `document.querySelector('#class input[value="ticked"]')`)
	b.click(`#class input[value="ticked"]`)
	b.wait("all figures", `document.querySelectorAll("#book li").length > 60`)
	for _, figure := range []string{"Natural Turn", "Right Foot Closed Change"} {
		b.click(`#book li[data-name="` + figure + `"] input`)
	}
	if !js[bool](b, `document.querySelector("#teach-what").options[0].text === "the next figure" && !document.querySelector("#teach-weeks").checkVisibility() && !document.querySelector("#teach-most").checkVisibility()`) {
		t.Error("the form asks for more than the next figure needs")
	}
	b.click("#teach-go")
	b.wait("what comes next", `document.querySelectorAll("#teach .choices li").length > 3`)
	words := b.text("#teach")
	for _, want := range []string{"in Upper Merle Village Hall", "Now: ✕ does not get round; gets stuck in 3 stances.", "Opens a lap: with it the class gets round.", "Then: ✓ gets round; shortest lap 38 bars; gets stuck nowhere.",
		"Joins: after Right Foot Closed Change, Natural Turn; goes on with Right Foot Closed Change, Natural Turn. 0 points a bar.", "shortest lap 30 bars; 192 laps of up to 32 bars", "the best first"} { // as lapwright teach --json has it
		if !strings.Contains(words, want) {
			t.Errorf("what to teach next without %q: %s", want, words)
		}
	}
	if n := js[int](b, `document.querySelectorAll("#teach .taught > .choices li").length`); n != 10 {
		t.Errorf("%d figures are seen at once", n)
	}
	b.click(`#teach [aria-label="Tick it: Hesitation"]`)
	b.wait("it is known", `document.querySelector('#book li[data-name="Hesitation"] input').checked`)
	if focus := js[string](b, `document.activeElement.id`); focus != "teach-go" {
		t.Errorf("the focus is on %q", focus)
	}
	if words := b.text("#teach .taught"); words != "" {
		t.Errorf("what was said before still stands: %q", words)
	}
	if words := b.text("#teach [role=status]"); words != "Hesitation: ticked." {
		t.Errorf("after it was ticked: %q", words)
	}
	// What the browser holds back leaves nothing that looks new.
	b.click("#teach-go")
	b.wait("what comes then", `document.querySelectorAll("#teach .choices li").length > 3`)
	if words := b.text("#teach"); !strings.Contains(words, "more than 10000 laps of up to") || regexp.MustCompile(`[0-9]{6}`).MatchString(words) {
		t.Errorf("laps that nobody counts: %q", words)
	}
	b.put("#teach-what", "weeks")
	if words := b.text("#teach .taught") + b.text("#teach [role=status]"); words != "" {
		t.Errorf("old words where a course is looked for: %q", words)
	}
	b.put("#teach-weeks", "52")
	b.click("#teach-go")
	b.wait("a sentence", `document.querySelector("#teach [role=alert]").textContent`)
	if words := b.text("#teach [role=alert]"); !strings.Contains(words, "give fewer weeks, or more levels with “Levels”") {
		t.Errorf("too many weeks: %q", words)
	}
	b.put("#teach-weeks", "60")
	b.click("#teach-go")
	b.wait("it is held back", `document.activeElement.id === "teach-weeks"`)
	if words := b.text("#teach [role=alert]"); words != "" {
		t.Errorf("an old fault: %q", words)
	}
}

// Where nobody gets round whatever is taught, the reasons are listed.
func TestBrowserTeachNone(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#room")
	b.wait("the room's sheet", `document.querySelector("#room-new")`)
	b.click("#room-new")
	b.put(`#room [data-side="0"]`, "3")
	b.put(`#room [data-side="1"]`, "3")
	b.wait("a small room", `/(^|\D)9 m²/.test(document.querySelector("#room-facts").textContent)`)
	b.click(`.tabs a[data-screen="class"]`)
	b.wait("the class's sheet", `document.querySelector("#teach-go")`)
	b.click("#teach-go")
	b.wait("no", `/nobody gets round this room/.test(document.querySelector("#teach [role=status]").textContent)`)
	if words := b.text("#teach .taught"); !strings.Contains(words, "runs out of room along wall 2") || !strings.Contains(words, "With Left Box added") { // as lapwright teach says
		t.Errorf("why: %q", words)
	}
}

// A search for a course can be stopped, and a class that is changed while it goes on is
// not shown what was asked of another.
func TestBrowserTeachStop(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#class")
	b.wait("the class's sheet", `document.querySelector("#teach-go")`)
	b.wait("the book", `document.querySelectorAll("#book li").length > 10`)
	b.put("#teach-what", "weeks")
	b.put("#teach-level", "gold")
	b.put("#teach-weeks", "11")
	b.put("#teach-per-week", "4")
	b.click("#teach-go")
	b.wait("how far it is", `/^Looking for what to teach in week/.test(document.querySelector("#teach [role=status]").textContent) && document.querySelector("#teach [role=progressbar]").checkVisibility()`)
	b.click("#teach-stop")
	b.wait("it is stopped", `/^Stopped/.test(document.querySelector("#teach [role=status]").textContent) && document.activeElement.id === "teach-go"`)
	if words := b.text("#teach .taught"); words != "" {
		t.Errorf("stopped, and listed: %q", words)
	}
	b.click("#teach-go")
	b.wait("it goes on again", `document.querySelector("#teach [role=progressbar]").checkVisibility()`)
	b.click(`#book li input`)
	b.wait("it has ended", `!document.querySelector("#teach [role=progressbar]").checkVisibility()`)
	if words := b.text("#teach .taught") + b.text("#teach [role=status]") + b.text("#teach [role=alert]"); words != "" {
		t.Errorf("of another class: %q", words)
	}
}

// A course from nothing: its weeks are taken up into the class, and a week's practice lap
// goes on the lap's sheet.
func TestBrowserTeachCourse(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#class")
	b.wait("the class's sheet", `document.querySelector("#teach-go")`)
	b.wait("the room is there", `document.querySelector("#now").textContent.includes("Merle")`)
	b.click("#teach-go")
	b.wait("the smallest sets", `document.querySelectorAll("#teach .choices li").length > 1`)
	if words := b.text("#teach"); !strings.Contains(words, "To turn both ways") || !strings.Contains(words, "Natural Turn, Reverse Turn, Left Foot Closed Change") {
		t.Errorf("what is enough: %q", words)
	}
	if !js[bool](b, `document.querySelector("#teach-most").checkVisibility() && !document.querySelector("#teach-weeks").checkVisibility()`) {
		t.Error("the form for the smallest sets")
	}
	b.put("#teach-what", "weeks")
	b.put("#teach-weeks", "2")
	b.put("#teach-per-week", "3")
	b.click("#teach-go")
	b.wait("a course", `document.querySelectorAll("#teach .weeks li").length === 2`)
	figures := js[[]string](b, `[...document.querySelectorAll("#teach .weeks li")].map((e) => e.querySelector(".week-figures").textContent)`)
	b.click("#teach-take")
	b.wait("it is taken up", `document.querySelectorAll("#class .weeks li").length === 2 && document.querySelector('#class input[value="weeks"]').checked`)
	for i, words := range js[[]string](b, `[...document.querySelectorAll("#class .weeks li > p:last-child")].map((e) => e.textContent)`) {
		if words != figures[i] {
			t.Errorf("week %d has %q, the course said %q", i+1, words, figures[i])
		}
	}
	if words := b.text("#teach [role=status]"); words != "2 weeks added to the class; it is week 1 now." {
		t.Errorf("after the course was taken up: %q", words)
	}
	b.wait("the book says so", `document.querySelectorAll("#book .taught-in").length > 60`)
	if words := js[string](b, `[...document.querySelectorAll("#book .taught-in")].map((e) => e.textContent).join("|")`); strings.Count(words, "✓ week 1, this one") != 3 || strings.Count(words, "not before week 2") != 3 {
		t.Errorf("beside the figures: %q", words)
	}
	b.put("#teach-weeks", "1")
	b.click("#teach-go")
	b.wait("one more week", `document.querySelector("#teach .weeks button")`)
	if words := b.text("#teach .week-joins"); !strings.Contains(words, "after ") || !strings.Contains(words, "points a bar") {
		t.Errorf("what a figure of the week joins: %q", words)
	}
	b.click("#teach .weeks button")
	b.wait("the practice lap", `location.hash === "#lap" && document.querySelectorAll("#bars .bar-row").length > 5`)
	b.wait("it is clean", `document.querySelector("#faults").textContent === ""`)
}

// Adding and deleting weeks keeps the focus, and is said.
func TestBrowserWeeks(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#class")
	b.wait("the class's sheet", `document.querySelector('#class input[value="weeks"]')`)
	b.click(`#class input[value="weeks"]`)
	b.wait("weeks", `document.querySelector("#week-add")`)
	b.click("#week-add")
	if label := js[string](b, `document.activeElement.getAttribute("aria-label")`); label != "Title of week 2" {
		t.Errorf("after a week was added the focus is on %q", label)
	}
	b.wait("it is said", `document.querySelector("#say").textContent === "Week 2 is added."`)
	b.click("#class .sheet .actions button:nth-child(2)")
	b.wait("it is said", `document.querySelector("#say").textContent.startsWith("Week 2 is deleted")`)
	if name := js[string](b, `document.activeElement.name`); name != "week" {
		t.Errorf("after a week was deleted the focus is on %q", name)
	}
	b.wait("all figures", `document.querySelectorAll("#book li").length > 60`)
	b.click("#week-add")
	b.wait("two weeks", `document.querySelectorAll("#class .weeks li").length === 2`)
	b.click("#class .weeks li:nth-child(1) input[type=radio]")
	if !js[bool](b, `document.activeElement.name === "week" && document.activeElement.checked && document.activeElement.closest("li").matches(":nth-child(1)")`) {
		t.Error("a week was chosen, and the focus is lost")
	}
	b.keys(kb.ArrowDown)
	b.wait("the arrow goes on", `document.activeElement.name === "week" && document.querySelector("#class .weeks li:nth-child(2)").classList.contains("active")`)
	b.keys(kb.ArrowUp)
	b.wait("and back", `document.querySelector("#class .weeks li:nth-child(1)").classList.contains("active")`)
	b.wait("all figures", `document.querySelectorAll("#book li").length > 60`)
	// What is taught in a later week only is not known yet.
	b.click("#class .weeks li:nth-child(2) input[type=radio]")
	b.click(`#book li[data-name="Wing"] input`)
	b.wait("week 2 has it", `document.querySelector("#now").textContent.endsWith("class, week 2")`)
	b.click("#class .weeks li:nth-child(1) input[type=radio]")
	b.wait("week 1 has not", `document.querySelector("#now").textContent.endsWith("nothing taught yet: bronze")`)
	b.wait("the book says so", `document.querySelector('#book li[data-name="Wing"] .taught-in').textContent === "not before week 2"`)
	b.click(`#book li[data-name="Whisk"] input`)
	if words := b.text(`#book li[data-name="Whisk"] .taught-in`); words != "✓ week 1, this one" {
		t.Errorf("beside a figure that was ticked: %q", words)
	}
}

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

// What to teach next, a course and calls without a next drill are looked over by axe-core.
func TestBrowserClassAccessible(t *testing.T) {
	path := os.Getenv("LAPWRIGHT_AXE")
	if path == "" {
		leftOut(t, "LAPWRIGHT_AXE names no axe.min.js, so axe-core does not look the sheet of the class over")
	}
	axe, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, dark := range []bool{false, true} {
		b, _ := window(t, 360, 740, "/#class")
		if dark {
			b.dark()
		}
		b.must("axe", chromedp.Do(b.ctx, chromedp.Evaluate[chromedp.Void](string(axe))))
		b.wait("the class's sheet", `document.querySelector('#class input[value="weeks"]')`)
		b.click(`#class input[value="weeks"]`)
		b.wait("all figures", `document.querySelectorAll("#book li").length > 60`)
		for _, figure := range []string{"Natural Turn", "Right Foot Closed Change", "Hesitation"} {
			b.click(`#book li[data-name="` + figure + `"] input`)
		}
		b.click("#teach-go")
		b.wait("what comes next", `document.querySelectorAll("#teach .choices li").length > 3`)
		b.audit(fmt.Sprintf("the next figure, dark %v", dark))
		b.put("#teach-what", "weeks")
		b.put("#teach-weeks", "2")
		b.click("#teach-go")
		b.wait("a course", `document.querySelectorAll("#teach .weeks li").length === 2`)
		b.audit(fmt.Sprintf("a course, dark %v", dark))
		js[bool](b, `(location.hash = "#practise", true)`)
		b.wait("the sheet", `document.querySelector("#drill-go")`)
		b.click("#drill-anywhere")
		b.click("#drill-go")
		b.wait("a drill", `document.querySelectorAll("#drill-calls li").length`)
		b.audit(fmt.Sprintf("a drill without a room, dark %v", dark))
		b.click("#drill-call")
		b.put("#drill-focus", "Wisk")
		b.click("#call-next")
		b.wait("no next drill", `document.querySelector(".calling [role=alert]").textContent`)
		b.audit(fmt.Sprintf("calls, dark %v", dark))
	}
}
