package page_test

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A drill is drawn by its seed, the same for the same one, and called in the hall in big
// type: what is danced, what comes next, a sound a bar before; one key draws the next.
func TestBrowserPractise(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#practise")
	b.wait("the sheet", `document.querySelector('#drill-room option[value="b:studio"]')`)
	b.put("#drill-room", "b:studio")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Sailmaker")`)
	b.put("#drill-bars", "8")
	b.put("#drill-seed", "3")
	b.click("#drill-go")
	b.wait("the drill", `document.querySelectorAll("#drill-calls li").length`)
	first := b.text("#drill-calls")
	for _, figure := range []string{"Closed Impetus", "Reverse Pivot", "Hesitation Change (at a corner)"} { // as lapwright drill prints it
		if !strings.Contains(first, figure) {
			t.Errorf("the drill of seed 3 has no %s: %q", figure, first)
		}
	}
	b.click("#drill-next")
	b.wait("another drill", `document.querySelector("#drill-seed").value === "4" && !document.querySelector("#drill-calls").innerText.includes("Reverse Pivot (after closed impetus to diagonal to centre)")`)
	if words := b.text("#screen-practise .caution"); !strings.Contains(words, "venue posts") {
		t.Errorf("the caution: %q", words)
	}
	b.put("#drill-seed", "3")
	b.click("#drill-go")
	b.wait("the first again", `document.querySelector("#drill-calls").innerText.includes("Closed Impetus")`)
	if again := b.text("#drill-calls"); again != first {
		t.Errorf("the same seed draws %q, then %q", first, again)
	}
	b.click("#drill-call")
	b.wait("the calls fill the window", `document.querySelector(".calling").open && document.querySelector(".calling").getBoundingClientRect().width >= innerWidth - 1`)
	if size := js[float64](b, `parseFloat(getComputedStyle(document.querySelector(".call-now")).fontSize)`); size < 90 {
		t.Errorf("letters of %.0f pixels are not read across a hall", size)
	}
	js[bool](b, `(window.heard = [], new MutationObserver(() => heard.push([document.querySelector(".calling [aria-live]").textContent, document.querySelector(".call-place").textContent])).observe(document.querySelector(".calling [aria-live]"), {childList: true}), true)`)
	b.put(`.calling input[type="range"]`, "60")
	b.click(".call-foot .main")
	b.wait("the second figure is danced", `document.querySelector(".call-now").textContent === "Closed Impetus"`)
	if words := b.text(".call-then"); words != "next: Natural Turn (1-3)" {
		t.Errorf("next: %q", words)
	}
	heard := js[[][]string](b, `heard`)
	if len(heard) < 2 || heard[0][0] != "Natural Turn" || !strings.Contains(heard[0][1], "counted in") || heard[1][0] != "Closed Impetus" || !(strings.HasPrefix(heard[1][1], "Bar 1 ") || strings.Contains(heard[1][1], "counted in")) {
		t.Errorf("called: %v; each figure is called a bar before it", heard)
	}
	b.keys("n")
	b.wait("the next drill by one key", `document.querySelector("#drill-seed").value === "4" && !document.querySelector("#call-next").disabled`)
	b.keys(kb.Escape)
	b.wait("it closes", `!document.querySelector(".calling").open`)
}

// A room is picked or drawn: corners are dragged and moved by keys, lengths typed, things
// put in and taken out; what the program makes of it is told, with the caution on couples;
// a room that was saved comes back, and a second window does not write over a newer one.
func TestBrowserRoom(t *testing.T) {
	b, at := window(t, 1280, 900, "/#room")
	b.allow = []string{"status of 412"}
	b.wait("the built-in room", `document.querySelector("#room-facts")?.textContent.includes("192.3 m²")`)
	if words := b.text("#room"); !strings.Contains(words, "9 move freely, 12 at the closest") || !strings.Contains(words, "the limit that the venue posts") {
		t.Errorf("the village hall: %q", words)
	}
	b.click("#room-new")
	b.wait("a rectangle of 14 by 9 m", `document.querySelector("#room-facts")?.textContent.includes("126 m²")`)
	b.put(`#room [data-side="0"]`, "16")
	b.wait("16 by 9 m", `document.querySelector("#room-facts")?.textContent.includes("144 m²")`)
	if other := js[string](b, `document.querySelector('#room [data-side="2"]').value`); other != "16" {
		t.Errorf("the other long side is %s m", other)
	}
	// Drag the third corner out by about two metres.
	box := js[[]float64](b, `(() => { document.querySelector("#room .outline").scrollIntoView({block: "center"}); const r = document.querySelector('#room [data-key="c2"] .hit').getBoundingClientRect(), s = document.querySelector("#room .outline").getScreenCTM(); return [r.x + r.width / 2, r.y + r.height / 2, s.a]; })()`)
	b.must("drag", chromedp.Do(b.ctx, chromedp.DragAndDropXY(box[0], box[1], box[0]+2*box[2], box[1], 6)))
	b.wait("it is larger: 144 m² and half of 2 by 9 m", `document.querySelector("#room-facts")?.textContent.includes("153 m²")`)
	js[bool](b, `(document.querySelector('#room [data-key="c2"]').focus(), true)`)
	for range 2 {
		b.must("key", chromedp.Do(b.ctx, chromedp.KeyEvent(kb.ArrowLeft, chromedp.KeyModifiers(chromedp.ModifierShift))))
	}
	b.wait("by keys it is back", `document.querySelector("#room-facts")?.textContent.includes("144 m²")`)
	b.click("#room-column")
	b.wait("a column of 0.3 m takes 0.28 m²", `document.querySelector("#room-facts")?.textContent.includes("143.7 m²")`)
	b.click("#room-stage")
	b.wait("a stage", `document.querySelectorAll("#room .thing-row").length === 2`)
	b.put(`#room [data-thing="1"][data-field="Middle y"]`, "8.5")
	b.wait("a stage of 3 m² at the wall", `document.querySelector("#room-facts")?.textContent.includes("140.7 m²")`)
	b.click(`#room [aria-label="Delete stage"]`)
	b.wait("it is gone", `document.querySelector("#room-facts")?.textContent.includes("143.7 m²")`)
	b.put("#rooms-name", "Quay hall")
	b.click("#room .keeper .row:nth-of-type(2) button")
	b.wait("it is saved", `document.querySelector("#room .keeper .told").textContent.includes("Saved")`)

	other := windowAt(t, at, 1000, 800, "/#room")
	other.wait("the saved room is offered", `document.querySelector('#room-pick option[value="s:Quay hall"]')`)
	other.put("#room-pick", "s:Quay hall")
	other.wait("it comes back", `document.querySelector("#room-facts")?.textContent.includes("143.7 m²")`)
	other.put("#rooms-name", "Quay hall")
	other.put(`#room [data-side="0"]`, "17")
	other.wait("it is changed there", `document.querySelector("#room-facts")?.textContent.includes("152.7 m²")`)
	other.click("#room .keeper .row:nth-of-type(2) button")
	other.wait("and saved", `document.querySelector("#room .keeper .told").textContent.includes("Saved")`)
	b.click("#room .keeper .row:nth-of-type(2) button")
	b.wait("the first window is told", `document.querySelector("#room .keeper .told").textContent && !document.querySelector("#room .keeper .told").textContent.includes("Saved")`)

	// A lap is danced in it.
	b.click(`.tabs a[data-screen="lap"]`)
	b.click("#lap-go")
	b.wait("a lap of it", `document.querySelectorAll("#bars .bar-row").length > 5`)
}

// A class has its style, its levels, its ticked figures with what each joins to, or its
// weeks; the lap keeps to it, and a class that was saved comes back with titles and notes.
func TestBrowserClass(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#class")
	b.wait("the figures of bronze", `document.querySelectorAll("#book li").length > 10`)
	b.click(`#class input[value="weeks"]`)
	b.wait("all figures", `document.querySelectorAll("#book li").length > 60`)
	b.put("#class-name", "Quay class")
	b.put(".weeks li:nth-child(1) input[placeholder=title]", "To the right")
	b.put(".weeks li:nth-child(1) input[placeholder=note]", "Slowly: with the music later")
	for _, figure := range []string{"Natural Turn", "Right Foot Closed Change"} {
		b.click(`#book li[data-name="` + figure + `"] input`)
	}
	b.click("#week-add")
	b.wait("week 2", `document.querySelectorAll(".weeks li").length === 2 && document.querySelectorAll("#book li").length > 60`)
	for _, figure := range []string{"Reverse Turn", "Left Foot Closed Change"} {
		b.click(`#book li[data-name="` + figure + `"] input`)
	}
	b.click(`#book li[data-name="Natural Turn"] summary`)
	b.wait("what it joins to", `document.querySelector('#book li[data-name="Natural Turn"] .known-join')`)
	if words := b.text(`#book li[data-name="Natural Turn"] details`); !strings.Contains(words, "Goes on with:") || !strings.Contains(words, "✓ Right Foot Closed Change") {
		t.Errorf("joins: %q", words)
	}
	b.put("#classes-name", "Quay class")
	b.click("#class .keeper .row:nth-of-type(2) button")
	b.wait("saved", `document.querySelector("#class .keeper .told").textContent.includes("Saved")`)
	b.click(`#class input[value="level"]`)
	b.put("#classes-saved", "Quay class")
	b.click("#class .keeper .row:nth-of-type(1) button")
	b.wait("it comes back", `document.querySelector('#class input[value="weeks"]').checked && document.querySelectorAll(".weeks li").length === 2 && document.querySelector(".weeks li:nth-child(2)").innerText.includes("Reverse Turn")`)
	if note := js[string](b, `document.querySelector(".weeks li:nth-child(1) input[placeholder=note]").value`); note != "Slowly: with the music later" {
		t.Errorf("the note: %q", note)
	}
	b.click(`.tabs a[data-screen="lap"]`)
	b.put("#lap-room", "b:studio")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Sailmaker")`)
	b.click("#lap-go")
	b.wait("a lap, or no with reasons", `document.querySelectorAll("#bars .bar-row").length > 5 || !document.querySelector("#lap-no").hidden`)
	time.Sleep(100 * time.Millisecond)
	for _, name := range js[[]string](b, `[...document.querySelectorAll("#bars .bar-name b")].map((e) => e.textContent.replace(/ \(.*/, ""))`) {
		if !strings.Contains("Natural Turn, Right Foot Closed Change, Reverse Turn, Left Foot Closed Change", name) {
			t.Errorf("%s is danced, which the class has not been taught", name)
		}
	}
}
