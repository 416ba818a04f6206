package page_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

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

// What to teach next, a course and calls without a next drill are looked over by axe-core.
func TestBrowserClassAccessible(t *testing.T) {
	axe := axeCore(t)
	for _, dark := range []bool{false, true} {
		b, _ := window(t, 360, 740, "/#class")
		if dark {
			b.dark()
		}
		b.must("axe", chromedp.Do(b.ctx, chromedp.Evaluate[chromedp.Void](axe)))
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
