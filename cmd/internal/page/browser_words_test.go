package page_test

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// commandLine are words that nobody should have to read who sees only the page.
var commandLine = regexp.MustCompile(`--[a-z]|lapwright |\.yaml|[a-z]\[\d|exit code`)

// What the program refuses is told in the words of the page.
func TestBrowserPlainWords(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	for _, c := range []struct{ field, value, words string }{
		{"bars", "many", "“Bars” takes a number of bars"},
		{"bars", "40-24", "“Bars”"},
		{"must", "Wisk", "there is no figure"},
		{"must", "Wing", "Wing"},
		{"without", "Wisk", "there is no figure"},
		{"cap", "Whisk", "“At most so many of a set” takes a figure or a set"},
		{"order", "Whisk", "“Only after” takes figures"},
		{"fix", "Whisk", "“Figure at a bar” takes a figure"},
		{"fix", "Whisk@9 wall 9", "“Figure at a bar”"},
	} {
		b.put("#lim-"+c.field, c.value)
		b.click("#lap-go")
		b.wait("a sentence for "+c.field, `document.querySelector("#lap-stop").hidden && document.querySelector("#lap-error").textContent`)
		words := b.text("#lap-error")
		if !strings.Contains(words, c.words) || commandLine.MatchString(words) {
			t.Errorf("%s %s: %q", c.field, c.value, words)
		}
		b.put("#lim-"+c.field, "")
	}
	for _, c := range []struct{ typed, words string }{
		{"Natural Turn\n\n# a remark\nWisk", "Line 4: there is no figure \"Wisk\""},
		{"figures:\n  - Natural Turn\n  - Wisk", "Line 3: there is no figure \"Wisk\""},
		{"Natural Turn, Right Foot Closed Change\nWisk, Whisk", "Line 2: there is no figure \"Wisk\""},
		{"figures: [Natural Turn\n", "Line "},
		{"room: nowhere\nfigures: [Natural Turn]", "nowhere"},
		{"stride: 9\nfigures: [Natural Turn]", "Line 1"},
	} {
		b.write(c.typed)
		if words := b.text("#write .told"); !strings.Contains(words, c.words) || commandLine.MatchString(words) {
			t.Errorf("%q: %q", c.typed, words)
		}
	}
}

// Sentences of the program, as it says them, and what the page says.
func TestBrowserSentences(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	for _, c := range []struct{ said, plain string }{
		{"--bars and --minutes contradict each other: give one of them", "“Bars” and “Minutes” contradict each other: give one of them"},
		{"--hardest takes points from 0 to 20, not \"x\"; lapwright figures shows how hard each is.", "“Points a bar, at most” takes points from 0 to 20, not \"x\"."},
		{"routine.yaml has 2 faults, so there is nothing to vary yet; lapwright check routine.yaml tells them all. The first: bar 2", "The routine has 2 faults, so there is nothing to vary yet. The first: bar 2"},
		{"room.yaml:7: obstacles[1].centre: it lies outside", "The room’s file, line 7: it lies outside"},
		{"lapwright: note: 40 bars a minute is fast", "40 bars a minute is fast"},
		{"the couple runs into the wall", "The couple runs into the wall"},
	} {
		if words := js[string](b, `import("/assets/plain.js").then((m) => m.plain(`+quoted(c.said)+`))`); words != c.plain {
			t.Errorf("%q: %q", c.said, words)
		}
	}
}

// Words that were said of something are taken away when it is gone.
func TestBrowserOldWords(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	b.put("#lap-room", "b:studio")
	b.put("#lim-bars", "1-5")
	b.click("#lap-go")
	b.wait("no is said", `!document.querySelector("#lap-no").hidden`)
	b.put("#lim-laps", "99") // which the browser itself holds back
	b.unfold("#ask details")
	b.click("#lap-go")
	b.wait("the old no is gone", `document.querySelector("#lap-no").hidden`)
	b.put("#lim-laps", "")
	b.put("#lim-bars", "")
	b.put("#lim-must", "Wisk")
	b.click("#lap-go")
	b.wait("a sentence", `document.querySelector("#lap-error").textContent`)
	b.write("Natural Turn")
	if words := b.text("#lap-error"); words != "" {
		t.Errorf("beside a routine that was typed stands still %q", words)
	}
}

// Looking for a lap does not take the focus away from whoever uses the keyboard.
func TestBrowserFocusStays(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	b.put("#lap-room", "b:studio")
	js[bool](b, `(document.querySelector("#lap-go").focus(), true)`)
	b.keys("\r")
	b.wait("the lap is there", `document.querySelectorAll("#bars .bar-row").length > 5`)
	if id := js[string](b, `document.activeElement.id`); id != "lap-go" {
		t.Errorf("the focus is on %q", id)
	}
}

// On paper there are the name, the room and the couple, the whole floor and all bars, and
// no buttons.
func TestBrowserPrint(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	js[bool](b, `(dispatchEvent(new Event("beforeprint")), true)`)
	head := b.text("#print-head")
	for _, words := range []string{"Sailmaker's Studio", "bronze", "14 bars", "bars a minute"} {
		if !strings.Contains(head, words) {
			t.Errorf("above the sheet stands %q, without %q", head, words)
		}
	}
	cut := js[[]string](b, `[...document.querySelectorAll("#screen-lap .view, #screen-lap .bars-sheet")].filter((e) => { const r = e.getBoundingClientRect(); return r.right > 700 && e.matches(".view") || e.scrollHeight > r.height + 2 && getComputedStyle(e).overflowY !== "visible" && !e.matches(".view"); }).map((e) => e.className)`)
	if len(cut) > 0 {
		t.Errorf("cut off on paper: %q", cut)
	}
	whole := js[bool](b, `(() => { const v = document.querySelector("#lap-hall .view").getBoundingClientRect(), w = document.querySelector("#lap-hall .walls").getBoundingClientRect(); return w.left >= v.left && w.right <= v.right && w.top >= v.top && w.bottom <= v.bottom && w.width > 300; })()`)
	if !whole {
		t.Error("the floor is cut")
	}
	shown := js[[]string](b, `[...document.querySelectorAll("#screen-lap button:not(.bar-row), #screen-lap input, nav a")].filter((e) => e.checkVisibility()).map((e) => e.outerHTML.slice(0, 80))`)
	if len(shown) > 0 {
		t.Errorf("on paper: %q", shown)
	}
	js[bool](b, `(dispatchEvent(new Event("afterprint")), true)`)
}

// quoted is a text as the browser's language writes it.
func quoted(words string) string {
	data, _ := json.Marshal(words)
	return string(data)
}
