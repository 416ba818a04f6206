package page_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
)

// A bar is chosen: what else could go there is listed with its future, dead ends marked;
// one is put there, and undo and redo go back and forth, by buttons and by keys.
func TestBrowserChange(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	was := b.text("#bars")
	b.click("#bars li:nth-child(2) .bar-row")
	if !js[bool](b, `document.querySelector("#lap-hall .mark.chosen") !== null`) {
		t.Error("the floor does not show which bar is chosen")
	}
	b.click("#bars .detail button:nth-child(2)")
	b.wait("others are listed", `document.querySelectorAll("#bars .choices li").length`)
	if words := b.text("#bars .choices"); !strings.Contains(words, "it can get right round") {
		t.Errorf("the future of what could go there: %q", words)
	}
	b.click("#bars .choices li:first-child button")
	b.wait("it is there", `!document.querySelector("#undo").disabled`)
	now := b.text("#bars")
	if now == was {
		t.Error("nothing has changed")
	}
	b.click("#undo")
	if words := b.text("#bars"); words != was {
		t.Errorf("undone: %q", words)
	}
	b.click("#redo")
	if words := b.text("#bars"); words != now {
		t.Errorf("done again: %q", words)
	}
	b.must("Ctrl-Z", chromedp.Do(b.ctx, chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))))
	if words := b.text("#bars"); words != was {
		t.Errorf("undone by Ctrl-Z: %q", words)
	}
}

// A figure that does not fit in with the bars after it is put in all the same: as few bars
// as can be are danced otherwise, the rest stays, and the focus stays at the bar. What is
// there already is not offered.
func TestBrowserPutIn(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	b.click("#lap-go")
	b.wait("the lap is there", `document.querySelectorAll("#bars .bar-row").length > 5`)
	names := `[...document.querySelectorAll("#bars .bar-row")].map((e) => e.querySelector(".bar-no").textContent + " " + e.querySelector("b").textContent)`
	was := js[[]string](b, names)
	b.click("#bars li:nth-child(4) .bar-row")
	b.click("#bars .detail:not([hidden]) .actions button:nth-child(2)")
	b.wait("others are listed", `document.querySelectorAll("#bars .choices li").length`)
	offered := js[[]string](b, `[...document.querySelectorAll("#bars .choices b")].map((e) => e.textContent)`)
	for _, name := range offered {
		if strings.HasSuffix(was[3], " "+name) && !strings.Contains(name, "corner") {
			t.Errorf("%s is there already, and is offered", name)
		}
	}
	chosen := js[string](b, `(() => { const li = [...document.querySelectorAll("#bars .choices li:not(.dead)")].find((e) => /get right round$/.test(e.querySelector(".future").textContent)); li.id = "choice"; return li.querySelector("b").textContent; })()`)
	b.click("#choice button")
	b.wait("it is there", `!document.querySelector("#undo").disabled`)
	now := js[[]string](b, names)
	if bar, _, _ := strings.Cut(was[3], " "); now[3] != bar+" "+chosen {
		t.Errorf("%s was put in bar %s: %q", chosen, bar, now)
	}
	if words := b.text("#faults"); words != "" {
		t.Errorf("faults: %q", words)
	}
	same := 0
	for same < len(was) && same < len(now) && was[len(was)-1-same] == now[len(now)-1-same] {
		same++
	}
	if strings.Join(now[:3], ";") != strings.Join(was[:3], ";") || same < 4 {
		t.Errorf("of\n%q\nlittle is left:\n%q", was, now)
	}
	if focus := js[string](b, `document.activeElement.innerText`); !strings.Contains(focus, chosen) {
		t.Errorf("the focus is on %q", focus)
	}
	b.wait("it is said", `/are danced otherwise, the rest stays. No faults/.test(document.querySelector("#say").textContent)`)
	b.click("#undo")
	b.wait("undoing is said", `/^Undone. On the sheet: /.test(document.querySelector("#say").textContent)`)
	if id := js[string](b, `document.activeElement.id`); id != "bars-title" {
		t.Errorf("after the last undo the focus is on %q", id)
	}
}

// Where the rest cannot stay, that is told before anything is changed; who is sure puts the
// figure in all the same.
func TestBrowserPutInAllTheSame(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	was := b.text("#bars")
	b.click("#bars ol:last-of-type li:last-child .bar-row")
	b.click("#bars .detail:not([hidden]) .actions button:nth-child(2)")
	b.wait("others are listed", `document.querySelector('#bars [aria-label="Put it here: Whisk, bar 14"]')`)
	b.click(`#bars [aria-label="Put it here: Whisk, bar 14"]`)
	b.wait("it is told", `/cannot be danced so that the rest stays: \d+ faults?, the first: /.test(document.querySelector("#bars").textContent)`)
	if words := js[string](b, `document.activeElement.textContent`); words != "Put it here all the same" {
		t.Errorf("the focus is on %q", words)
	}
	if !js[bool](b, `document.querySelector("#undo").disabled`) {
		t.Error("something has been changed already")
	}
	b.keys("\r")
	b.wait("it is there, with faults", `!document.querySelector("#undo").disabled && document.querySelectorAll("#faults .faults li").length > 0`)
	if b.text("#bars") == was || !strings.Contains(b.text("#bars"), "Whisk") {
		t.Error("it is not put in")
	}
}

// A lap is made for the room that has been chosen, however soon it is asked for; a routine
// of another room says so, and that room can be chosen.
func TestBrowserOtherRoom(t *testing.T) {
	b, at := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	js[bool](b, `(() => { const e = document.querySelector("#lap-room"); e.value = "b:studio"; e.dispatchEvent(new Event("change", {bubbles: true})); document.querySelector("#lap-go").click(); return true; })()`)
	b.wait("the lap is there", `document.querySelectorAll("#bars .bar-row").length > 5`)
	if n := b.bars(); n != 10 {
		t.Errorf("%d figures: that is no lap of the studio", n)
	}
	b.put("#lap-room", "b:ballroom")
	b.wait("it is told", `/in Sailmaker's Studio; a new lap is made for Merlehaven Assembly Rooms/.test(document.querySelector("#lap-other").textContent)`)
	b.click("#lap-other button")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Sailmaker") && document.querySelector("#lap-other").hidden`)
	b.unfold("#take-fold")
	b.click("#make-link")
	b.wait("the link", `document.querySelector("#link").value`)
	link := js[string](b, `document.querySelector("#link").value`)
	other := windowAt(t, at, 1280, 900, "/"+link[strings.Index(link, "#"):])
	other.wait("the routine of the link", `document.querySelectorAll("#bars .bar-row").length === 10`)
	other.wait("its room", `document.querySelector("#now").textContent.includes("Sailmaker") && document.querySelector("#lap-other").hidden`)
	phone := windowAt(t, at, 360, 740, "/"+link[strings.Index(link, "#"):])
	phone.wait("the lap of the link is in sight on a phone", `document.querySelectorAll("#bars .bar-row").length === 10 && document.querySelector("#lap-hall .view").getBoundingClientRect().top < 200`)
}

// Where there is a fault, what could go there can be put there; afterwards the focus is
// at that bar.
func TestBrowserCouldGo(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.write("Natural Turn\nReverse Turn")
	b.unfold("#faults .faults details")
	b.wait("what could go is listed", `document.querySelector('#faults [aria-label="Put it here: Right Foot Closed Change, bar 3"]')`)
	b.click(`#faults [aria-label="Put it here: Right Foot Closed Change, bar 3"]`)
	b.wait("it is mended", `!document.querySelector("#faults").textContent`)
	if focus := js[string](b, `document.activeElement.innerText`); !strings.Contains(focus, "Right Foot Closed Change") {
		t.Errorf("the focus is on %q", focus)
	}
}

// What was kept, varied and played of one routine is not taken over to another.
func TestBrowserAnother(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	b.click("#bars ol:first-of-type li:nth-child(2) .keep input")
	b.unfold("#vary-fold")
	b.click("#vary button.main")
	b.wait("variations", `/Variation 1 of/.test(document.querySelector("#vary .flip").textContent)`)
	b.put("#lap-bar", "6")
	b.write("room: studio\nfigures: [Natural Turn, Right Foot Closed Change, Reverse Turn, Left Foot Closed Change]")
	if n := js[int](b, `document.querySelectorAll("#bars .keep input:checked").length`); n != 0 {
		t.Errorf("%d figures of another routine are kept", n)
	}
	if words := b.text("#vary"); strings.Contains(words, "Variation 1") || !strings.Contains(words, "Nothing is kept") {
		t.Errorf("of another routine: %q", words)
	}
	if at := js[string](b, `document.querySelector("#lap-bar").value`); at != "1" {
		t.Errorf("another routine is shown from bar %s", at)
	}
}

// Half-way past the stage, half a metre outside the lane, the whole reverse turn is a trap
// for a couple of bronze level, as lapwright next says; the page marks it.
func TestBrowserDeadEnd(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.write("room: village hall\nstart: {at: [16, 5], wall: 2, facing: DC, free foot: LF, hold: closed}\nfigures:\n  - Double Reverse Spin (whole turn)\n")
	b.click("#bars li .bar-row")
	b.click("#bars .detail button:nth-child(2)")
	b.wait("others are listed", `document.querySelectorAll("#bars .choices li").length`)
	dead := js[[]string](b, `[...document.querySelectorAll("#bars .choices .dead")].map((e) => e.innerText)`)
	found := false
	for _, words := range dead {
		found = found || strings.HasPrefix(words, "Reverse Turn\n") && strings.Contains(words, "✕ Dead end: no room at once")
	}
	if !found || len(dead) == js[int](b, `document.querySelectorAll("#bars .choices li").length`) {
		t.Errorf("dead ends: %q", dead)
	}
}

// Bars are kept and the rest is danced otherwise; variations are flipped through and one
// is taken, in which the kept bars are as they were.
func TestBrowserVary(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	names := `[...document.querySelectorAll("#bars .bar-name b")].map((e) => e.textContent)`
	was := js[[]string](b, names)
	for _, n := range []string{"1", "2", "3"} {
		b.click("#bars ol:first-of-type li:nth-child(" + n + ") .keep input")
	}
	b.unfold("#vary-fold")
	b.put("#vary-off", "0.6")
	b.click("#vary button.main")
	b.wait("variations", `/Variation 1 of|no other|There/.test(document.querySelector("#vary .flip").textContent)`)
	if words := b.text("#vary .flip"); !strings.Contains(words, "Variation 1 of") {
		t.Fatalf("variations: %q", words)
	}
	b.click("#vary .flip button:nth-child(2)")
	b.click("#vary .flip button:nth-child(1)")
	b.click("#vary .flip .main")
	b.wait("it is taken", `!document.querySelector("#undo").disabled`)
	now := js[[]string](b, names)
	if strings.Join(now[:3], ";") != strings.Join(was[:3], ";") {
		t.Errorf("kept: %v, now %v", was[:3], now[:3])
	}
	if strings.Join(now, ";") == strings.Join(was, ";") {
		t.Error("nothing is danced otherwise")
	}
}

// A routine that is typed shows its faults on the floor and in words; a repair that is
// accepted mends it.
func TestBrowserWrite(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.write("Natural Turn\nReverse Turn\nLeft Foot Closed Change")
	if words := b.text("#faults"); !strings.Contains(words, "the leader has the right foot free; Reverse Turn begins with the left foot free") || !strings.Contains(words, "Mended with 1 change") {
		t.Errorf("faults: %q", words)
	}
	if n := js[int](b, `document.querySelectorAll("#lap-hall .mark.faulty").length`); n != 1 {
		t.Errorf("%d faults are marked on the floor", n)
	}
	b.click("#faults .repair button")
	b.wait("it is mended", `!document.querySelector("#faults").textContent`)
	if n := b.bars(); n != 4 {
		t.Errorf("%d figures after one was put in", n)
	}
	b.write("Natural Turn\nSideways Hop")
	if words := b.text("#write .told"); !strings.Contains(words, `there is no figure "Sideways Hop"`) {
		t.Errorf("a figure that there is not: %q", words)
	}
	b.write("name: Whole file\nroom: studio\nfigures:\n  - Natural Turn\n  - Right Foot Closed Change\n")
	if words := b.text("#write .told"); !strings.Contains(words, "No faults") {
		t.Errorf("a whole file: %q", words)
	}
}

// Every kind of file is downloaded and is what it says, and a link holds the routine.
func TestBrowserTakeAway(t *testing.T) {
	b, at := window(t, 1280, 900, "/")
	b.studioLap()
	folder := t.TempDir()
	call(b, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: "allow", DownloadPath: folder, BrowserContextID: b.profile()})
	b.unfold("#take-fold")
	for _, kind := range []struct{ name, file, begins string }{
		{"pdf", "Lap of Sailmaker's Studio.pdf", "%PDF-"}, {"svg", "Lap of Sailmaker's Studio.svg", "<"},
		{"midi", "Lap of Sailmaker's Studio.mid", "MThd"}, {"wav", "Lap of Sailmaker's Studio.wav", "RIFF"},
		{"yaml", "Lap of Sailmaker's Studio.yaml", "name: "},
	} {
		b.click(`#take [data-kind="` + kind.name + `"]`)
		var data []byte
		for end := time.Now().Add(40 * time.Second); len(data) == 0 && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			data, _ = os.ReadFile(filepath.Join(folder, kind.file))
		}
		if !strings.HasPrefix(string(data), kind.begins) {
			t.Errorf("%s: %.40q; the page says %q", kind.name, data, b.text("#take .told"))
		}
	}
	b.click("#make-link")
	b.wait("the link is there", `document.querySelector("#link").value.includes("#r=")`)
	link := js[string](b, `document.querySelector("#link").value`)
	if !strings.HasPrefix(link, at.URL+"/#r=") || len(link) > 2000 {
		t.Errorf("a link of %d letters: %.60s", len(link), link)
	}
	was := js[[]string](b, `[...document.querySelectorAll("#bars .bar-name b")].map((e) => e.textContent)`)
	other := windowAt(t, at, 900, 800, strings.TrimPrefix(link, at.URL))
	other.wait("the routine of the link", `document.querySelectorAll("#bars .bar-row").length > 5`)
	if now := js[[]string](other, `[...document.querySelectorAll("#bars .bar-name b")].map((e) => e.textContent)`); strings.Join(now, ";") != strings.Join(was, ";") {
		t.Errorf("the link opens %v, not %v", now, was)
	}
	for _, address := range other.asked {
		if strings.Contains(address, strings.TrimPrefix(link, at.URL)[4:40]) && !strings.Contains(address, "#") {
			t.Errorf("the routine of the link went to the server: %.80s", address)
		}
	}
	cut := windowAt(t, at, 900, 800, "/#r=AAAA")
	cut.wait("a link that was cut off is told", `document.querySelector("#lap-error").textContent.includes("cut off")`)
}

// A hostile name in every field stays a name: it is shown as text, nothing of it runs,
// and what is saved under a tidy name comes back as it was.
func TestBrowserHostile(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#room")
	b.allow = []string{"status of 4"} // the server's refusals of impossible names
	hostile := `<img src=x onerror=hurt()>"': {a: [*]} & ${1} <script>hurt()</script>`
	js[bool](b, `(window.hurt = () => { window.hurted = true; }, true)`)
	b.wait("the room's sheet", `document.querySelector("#room-name") && document.querySelector("#room-name").value`)
	b.put("#room-name", hostile)
	b.wait("the room has the name", `document.querySelector("#now").textContent.includes("onerror")`)
	b.put(`#room .sides tbody tr:first-child input`, hostile[:40])
	b.click("#room-column")
	b.wait("the column is there", `document.querySelectorAll("#room .thing-row").length === 3`)
	b.put("#room .thing-row:nth-child(3) .name input", hostile[:40])
	b.put("#rooms-name", hostile)
	b.click("#room .keeper .row:nth-of-type(2) button")
	b.wait("the name is refused", `document.querySelector("#room .keeper .told").textContent`)
	b.put("#rooms-name", "Evil hall")
	b.click("#room .keeper .row:nth-of-type(2) button")
	b.wait("it is saved", `document.querySelector("#room .keeper .told").textContent.includes("Saved")`)
	js[bool](b, `(location.hash = "#lap", true)`)
	b.put("#lim-bars", "")
	b.put("#lim-uses", "6")
	b.click("#lap-go")
	b.wait("a lap, a no or a sentence", `document.querySelectorAll("#bars .bar-row").length || !document.querySelector("#lap-no").hidden || document.querySelector("#lap-error").textContent`)
	for _, field := range []string{"must", "without", "cap", "order", "fix", "bars"} {
		b.put("#lim-"+field, hostile)
		b.click("#lap-go")
		b.wait("a sentence for "+field, `document.querySelector("#lap-stop").hidden && document.querySelector("#lap-error").textContent`)
		b.put("#lim-"+field, "")
	}
	b.write("name: '" + strings.ReplaceAll(hostile, "'", "''") + "'\nfigures:\n  - Natural Turn\n  - Right Foot Closed Change\n")
	b.write(hostile)
	js[bool](b, `(location.hash = "#class", true)`)
	b.wait("the class's sheet", `document.querySelector('#class input[value="weeks"]')`)
	b.click(`#class input[value="weeks"]`)
	b.wait("weeks", `document.querySelector("#class-name")`)
	b.put("#class-name", hostile)
	b.put(".weeks input[placeholder=title]", hostile)
	b.put(".weeks input[placeholder=note]", hostile)
	b.wait("figures", `document.querySelectorAll("#book li").length > 40`)
	b.click(`#book li[data-name="Natural Turn"] input`)
	b.put("#classes-name", "Evil class")
	b.click("#class .keeper .row:nth-of-type(2) button")
	b.wait("the class is saved", `document.querySelector("#class .keeper .told").textContent`)
	if words := b.text("#class .keeper .told"); !strings.Contains(words, "Saved") {
		t.Fatalf("the class: %q", words)
	}
	b.put("#class-name", "harmless")
	b.put("#classes-saved", "Evil class")
	b.click("#class .keeper .row:nth-of-type(1) button")
	b.wait("it comes back as it was", `document.querySelector("#class-name").value.includes("onerror")`)
	if name := js[string](b, `document.querySelector("#class-name").value`); name != hostile {
		t.Errorf("the class's name was %q, is %q", hostile, name)
	}
	b.put("#find-figure", hostile)
	js[bool](b, `(location.hash = "#practise", true)`)
	b.wait("the drills' sheet", `document.querySelector("#drill-focus")`)
	b.put("#drill-focus", hostile)
	b.click("#drill-go")
	b.wait("a sentence for the focus", `document.querySelector("#drill-form .told").textContent.includes("onerror")`)
	if js[bool](b, `Boolean(window.hurted) || document.querySelector("main img, main script") !== null`) {
		t.Error("a name has become part of the page")
	}
}

// Where somebody is in the way there are ways of waiting and back to the lane, with the
// caution, and on which side others can pass.
func TestBrowserWaysOut(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	js[bool](b, `(location.hash = "#class", true)`)
	b.wait("the class's sheet", `document.querySelector('#levels input[value="social"]')`)
	b.click(`#levels input[value="social"]`)
	js[bool](b, `(location.hash = "#lap", true)`)
	b.write("room: village hall\nstart: {at: [9, 0.9], wall: 1, facing: DC, free foot: LF, hold: closed}\nfigures: [Left Box (without turn)]")
	b.click("#bars li .bar-row")
	b.click("#bars .detail .actions button:nth-child(3)")
	b.wait("ways out", `document.querySelectorAll("#bars .others .choices li").length > 2`)
	words := b.text("#bars .others")
	for _, want := range []string{"Hesitation (to the left)", "others can pass on the side of the centre", "Back to the lane", "Look before anything else"} {
		if !strings.Contains(words, want) {
			t.Errorf("ways out without %q: %s", want, words)
		}
	}
}
