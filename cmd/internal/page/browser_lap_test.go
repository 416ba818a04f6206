package page_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
)

// A lap is asked for with one button, drawn on the floor, listed by bars and told in
// numbers; the caution stands by it.
func TestBrowserLap(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	if prints := js[int](b, `document.querySelectorAll("#lap-hall .figure use").length`); prints < 60 {
		t.Errorf("%d footprints are drawn for a lap of 14 bars, two dancers with three steps a bar", prints)
	}
	for _, part := range []string{".walls", ".lane", ".path", ".mark"} {
		if n := js[int](b, `document.querySelectorAll("#lap-hall `+part+`").length`); n == 0 {
			t.Errorf("the drawing has no %s", part)
		}
	}
	if words := b.text("#bars"); !strings.Contains(words, "Wall 1: mirror side") || !strings.Contains(words, "Natural Turn") {
		t.Errorf("the list of bars: %q", words)
	}
	b.unfold("#facts-fold")
	if words := b.text("#facts"); !strings.Contains(words, "14, in 10 figures") || !strings.Contains(words, "proven") {
		t.Errorf("in numbers: %q", words)
	}
	if words := b.text("#screen-lap .caution"); !strings.Contains(words, "venue posts") {
		t.Errorf("the caution: %q", words)
	}
}

// Limits in plain words reach the program; where there is no lap, the page says no with
// the program's reasons.
func TestBrowserNoLap(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#lap")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	b.put("#lap-room", "b:studio")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Sailmaker")`)
	b.put("#lim-bars", "1-5")
	b.click("#lap-go")
	b.wait("no is said", `!document.querySelector("#lap-no").hidden`)
	if words := b.text("#lap-no"); !strings.Contains(words, "at most 5 bars") || !strings.Contains(words, "would do") {
		t.Errorf("the no: %q", words)
	}
	b.put("#lim-bars", "many")
	b.click("#lap-go")
	b.wait("it is told what is wrong", `document.querySelector("#lap-error").textContent.includes("“Bars”")`)
	// A lap with limits keeps to them.
	b.put("#lim-bars", "20-24")
	b.put("#lim-must", "Reverse Turn")
	b.click("#lap-go")
	b.wait("a lap with limits", `document.querySelectorAll("#bars .bar-row").length > 5 && /^[12]\d, /.test(document.querySelector("#facts dd").textContent)`)
	if words := b.text("#bars"); !strings.Contains(words, "Reverse Turn") {
		t.Errorf("no Reverse Turn in %q", words)
	}
	if words := js[string](b, `document.querySelector("#facts dd").textContent`); words < "20" || words > "25" {
		t.Errorf("asked for 20 to 24 bars, got %s", words)
	}
}

// While a search goes on, the best lap so far is on the floor already.
func TestBrowserLapOnTheWay(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:studio"]')`)
	b.put("#lim-bars", "40")
	b.put("#lim-uses", "4")
	js[bool](b, `(window.early = [], new MutationObserver(() => { if (!document.querySelector("#lap-stop").hidden && document.querySelector("#lap-hall .prints .figure")) window.early.push(document.querySelector("#lap-words").textContent); }).observe(document.querySelector("#lap-hall"), {childList: true, subtree: true}), true)`)
	b.click("#lap-go")
	b.wait("a lap is drawn on the way", `window.early.length > 0 || document.querySelector("#lap-stop").hidden`)
	if n := js[int](b, `window.early.length`); n == 0 {
		t.Fatal("the floor is empty until the search ends")
	}
	if n := b.bars(); n != 0 && !js[bool](b, `document.querySelector("#lap-stop").hidden`) {
		t.Errorf("%d bars are listed of a lap that is not found yet", n)
	}
	if !js[bool](b, `document.querySelector("#lap-stop").hidden`) {
		b.click("#lap-stop")
	}
	b.wait("the best so far is there", `document.querySelectorAll("#bars .bar-row").length > 20`)
}

// A long search tells what it knows, and gives the best so far when it is stopped.
func TestBrowserStop(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:ballroom"]')`)
	b.put("#lap-room", "b:ballroom")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Merlehaven")`)
	b.put("#lim-uses", "4")
	b.put("#lim-apart", "3")
	b.put("#lim-phrase", "8")
	b.put("#lim-different", "9")
	b.click("#lap-go")
	b.wait("the search tells how it goes", `!document.querySelector("#lap-stop").hidden && document.querySelector("#lap-words").textContent !== "Looking for a lap …" || document.querySelectorAll("#bars .bar-row").length`)
	time.Sleep(3 * time.Second)
	if js[bool](b, `document.querySelector("#lap-stop").hidden`) {
		t.Skip("the search was over before it could be stopped")
	}
	b.click("#lap-stop")
	begin := time.Now()
	b.wait("it ends", `document.querySelector("#lap-stop").hidden`)
	if took := time.Since(begin); took > 20*time.Second {
		t.Errorf("stopping took %v", took)
	}
	b.wait("it says how it ended", `document.querySelectorAll("#bars .bar-row").length || !document.querySelector("#lap-no").hidden || document.querySelector("#lap-error").textContent`)
}

// Both dancers' feet step round the room in time, at any tempo; the slider, the steps
// and the views do what they say.
func TestBrowserPlay(t *testing.T) {
	b, _ := window(t, 1280, 900, "/")
	b.studioLap()
	feet := `[...document.querySelectorAll("#lap-hall .foot")].map((f) => f.style.transform)`
	if n := js[int](b, `document.querySelectorAll("#lap-hall .foot.leader").length + 10 * document.querySelectorAll("#lap-hall .foot.follower").length`); n != 22 {
		t.Fatalf("feet: %d", n)
	}
	before := js[[]string](b, feet)
	b.put("#lap-tempo", "60")
	b.click("#lap-hall .play")
	b.wait("they are on their way", `document.querySelector("#lap-hall .bar-words").textContent.startsWith("3 of")`)
	for i, now := range js[[]string](b, feet) {
		if now == before[i] {
			t.Errorf("foot %d has not moved", i)
		}
	}
	// The clock of the drawing and that of the music agree: 60 bars a minute are one a second.
	first := js[float64](b, `performance.now()`)
	b.wait("two bars later", `document.querySelector("#lap-hall .bar-words").textContent.startsWith("5 of")`)
	if took := js[float64](b, `performance.now()`) - first; took < 1700 || took > 2400 {
		t.Errorf("two bars at 60 a minute took %.0f ms", took)
	}
	sounded := js[map[string]int](b, `import("/assets/clicks.js").then((m) => m.clicks)`)
	if sounded["sounded"] < 12 || sounded["accents"]*3 < sounded["sounded"]-3 || sounded["accents"]*3 > sounded["sounded"]+3 {
		t.Errorf("clicks: %v; a bar has three, the first of them accented", sounded)
	}
	b.click("#lap-hall .play")
	if js[string](b, `document.querySelector("#lap-hall .play").textContent`) != "Play" {
		t.Error("it does not pause")
	}
	// Scrub to a bar, then step by step.
	b.put("#lap-bar", "8")
	b.wait("bar 8", `document.querySelector("#lap-hall .bar-words").textContent.startsWith("8 of 14: Natural Turn")`)
	if words := b.text("#lap-hall .step-words"); !strings.Contains(words, "leader: right foot, forward, facing DW") || !strings.Contains(words, "follower: left foot, back") {
		t.Errorf("step: %q", words)
	}
	b.click(`#lap-hall [aria-label="Step on"]`)
	if words := b.text("#lap-hall .step-words"); !strings.Contains(words, "Natural Turn (1-3 to backing diagonal to centre), 2") {
		t.Errorf("the step after: %q", words)
	}
	// The follower's view lists the follower's steps.
	b.put("#lap-who", "follower")
	if words := b.text("#lap-hall .step-words"); strings.Contains(words, "leader:") || !strings.Contains(words, "follower:") {
		t.Errorf("the follower's view: %q", words)
	}
	// Line of dance up: along wall 3 the floor is turned half round and a quarter back.
	b.click(`#lap-hall .ticks label:nth-child(4)`)
	if turn := js[string](b, `document.querySelector("#lap-hall .stage").style.getPropertyValue("--turn")`); turn != "90deg" {
		t.Errorf("along wall 3, which goes to the left, the floor is turned by %s", turn)
	}
	b.click(`#lap-hall .ticks label:nth-child(5)`)
	if near := js[float64](b, `document.querySelector("#lap-hall .foot svg").getBoundingClientRect().width`); near < 15 {
		t.Errorf("close to the couple a foot is %.0f pixels", near)
	}
}

// longLap plays a lap of more than 100 bars.
func longLap(t testing.TB) *tab {
	t.Helper()
	b, _ := window(t, 1280, 900, "/")
	b.wait("the rooms are there", `document.querySelector('#lap-room option[value="b:ballroom"]')`)
	b.put("#lap-room", "b:ballroom")
	b.wait("the room is chosen", `document.querySelector("#now").textContent.includes("Merlehaven")`)
	b.put("#lim-laps", "2")
	b.click("#lap-go")
	b.wait("a long lap", `document.querySelectorAll("#bars .bar-row").length > 70`)
	if bars := js[int](b, `Number(document.querySelector("#lap-bar").max)`); bars < 100 {
		t.Fatalf("%d bars are no long lap", bars)
	}
	b.click("#lap-hall .play")
	b.wait("it plays", `document.querySelector("#lap-hall .bar-words").textContent.startsWith("2 of")`)
	return b
}

// frames are the times of so many frames, in milliseconds of the browser's own clock.
func (b *tab) frames(many int) []float64 {
	b.t.Helper()
	return js[[]float64](b, fmt.Sprintf(`new Promise((done) => { const all = []; const tick = (t) => { all.push(t); if (all.length > %d) done(all); else requestAnimationFrame(tick); }; requestAnimationFrame(tick); })`, many))
}

// In play a frame moves the feet and lays nothing out anew, however long the lap is: only
// a step, with its words, does. The browser counts its layouts.
func TestBrowserFrames(t *testing.T) {
	b := longLap(t)
	call(b, performance.Enable, performance.EnableParams{})
	layouts := func() (n float64) {
		for _, m := range call(b, performance.GetMetrics, cdp.Empty{}).Metrics {
			if m.Name == "LayoutCount" {
				n = m.Value
			}
		}
		return n
	}
	before := layouts()
	frames := b.frames(240)
	if made := layouts() - before; made > 60 {
		t.Errorf("%.0f layouts in %d frames", made, len(frames)-1)
	}
}

// BenchmarkBrowserFrames tells how many frames a second there are in play on a lap of more
// than 100 bars, and how many of a hundred come more than half a frame late.
func BenchmarkBrowserFrames(b *testing.B) {
	tab := longLap(b)
	for b.Loop() {
		frames := tab.frames(240)
		late := 0
		for i := 1; i < len(frames); i++ {
			if frames[i]-frames[i-1] > 25 {
				late++
			}
		}
		b.ReportMetric(float64(len(frames)-1)/(frames[len(frames)-1]-frames[0])*1000, "frames/s")
		b.ReportMetric(100*float64(late)/float64(len(frames)-1), "late-%")
	}
}
