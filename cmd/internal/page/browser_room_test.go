package page_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// drawn opens the sheet of the room with a rectangle of 14 by 9 m.
func drawn(t *testing.T, wide, high int64) *tab {
	t.Helper()
	b, _ := window(t, wide, high, "/#room")
	b.rectangle()
	return b
}

// rectangle begins with a rectangle.
func (b *tab) rectangle() {
	b.t.Helper()
	b.wait("the built-in room", `document.querySelector("#room-facts")?.textContent.includes("192.3 m²")`)
	b.click("#room-new")
	b.wait("a rectangle of 14 by 9 m", `document.querySelector("#room-facts").textContent.includes("126 m²")`)
}

// focused is what the focus is on: its label, its words or its name.
func (b *tab) focused() string {
	b.t.Helper()
	return js[string](b, `(() => { const e = document.activeElement; return e === document.body ? "" : e.getAttribute("aria-label") || e.dataset.key || e.id || e.textContent; })()`)
}

// wrong waits until the top of the sheet tells a fault with some words, and tests that it is
// in sight, has no name that only files have, and that nothing of the plan is told as known.
func (b *tab) wrong(words string) {
	b.t.Helper()
	b.wait("it is told: "+words, fmt.Sprintf(`document.querySelector(".room-wrong").textContent.includes(%q)`, words))
	told := b.text(".room-wrong")
	for _, bad := range []string{"yaml", "[", "]", "obstacle", "NaN", "e+", `"`} {
		if strings.Contains(told, bad) {
			b.t.Errorf("%q has %q, which is no word of the page", told, bad)
		}
	}
	if role := js[string](b, `document.querySelector(".room-wrong").getAttribute("role")`); role != "alert" {
		b.t.Errorf("the fault has the role %q", role)
	}
	if !js[bool](b, `(() => { const r = document.querySelector(".room-wrong .error").getBoundingClientRect(); return r.height > 0 && r.top >= 0 && r.bottom <= innerHeight && document.elementFromPoint(r.x + 20, r.y + 10).closest(".room-wrong"); })() !== null`) {
		b.t.Errorf("the fault is out of sight: %q", told)
	}
}

// A plan that is no room is told in the names of the page, in sight, and nothing of the last
// good room stays beside it as if it were of this one; the lap keeps to the last good one,
// and that is told. Once the plan is mended all is there again.
func TestBrowserRoomWrong(t *testing.T) {
	for _, size := range [][2]int64{{1280, 800}, {360, 740}} {
		b := drawn(t, size[0], size[1])
		steps := []struct {
			selector, value string
			told            string
		}{
			{`[data-side="0"]`, "1", "The room is 1 × 9 m, too small for any couple: each way it must measure at least 2 m."},
			{`[data-side="0"]`, "14", ""},
			{`[aria-label="Delete corner 4, where side 4 begins"]`, "", ""},
			{`[aria-label="New corner in the middle of side 1"]`, "", ""},
			{"#room-margin", "1.9", "No couple can take corner 3: a free circle of 2.6 m radius is needed"},
			{"#room-margin", "", ""},
			{"#room-capacity", "9000", "The posted limit: it has to be from 1 to 5000, and is 9000."},
			{"#room-capacity", "", ""},
		}
		for _, s := range steps {
			if strings.HasPrefix(s.selector, "[aria") {
				b.click("#room " + s.selector)
			} else {
				b.put("#room "+s.selector, s.value)
			}
			if s.told == "" {
				b.wait("it is a room", `document.querySelector(".room-wrong").textContent === "" && document.querySelector("#room-facts").textContent.includes(" m²")`)
				continue
			}
			b.wrong(s.told)
			if words := b.text("#room-facts") + b.text("#room-walls"); strings.Contains(words, "m²") || strings.Contains(words, "move freely") || strings.Contains(words, "long") || strings.Count(words, "not known") < 6 {
				t.Errorf("beside the fault stands %q", words)
			}
			if words := b.text(".room-wrong"); !strings.Contains(words, "still use the last good room, “Our hall”") {
				t.Errorf("what the lap uses is not told: %q", words)
			}
		}
		// A stage outside, and then a second thing.
		b.click("#room-new")
		b.wait("a rectangle", `document.querySelector("#room-facts").textContent.includes("126 m²")`)
		b.click("#room-stage")
		b.wait("a stage", `document.querySelector("#room-facts").textContent.includes("123 m²")`)
		b.put(`#room [data-thing="0"][data-field="Middle x"]`, "30")
		b.wrong("The stage reaches 17.5 m out of the room; move it inside the walls, or delete it.")
		b.click("#room-column")
		b.put(`#room [data-thing="1"][data-field="Middle y"]`, "-8")
		b.wrong("Column 1 reaches 8.3 m out of the room")
		if n := js[int](b, `[...document.querySelectorAll(".room-wrong p")].filter((p) => p.textContent.includes("reaches")).length`); n != 2 {
			t.Errorf("%d of two faults are told, each in a line", n)
		}
		// It is not saved.
		b.put("#rooms-name", "No room")
		b.keys(kb.Enter)
		b.wait("no room is saved", `document.querySelector("#room .keeper .told").textContent.includes("not saved")`)
		// What lies outside is in the picture, and can be dragged back.
		js[bool](b, `(document.querySelector("#room .outline").scrollIntoView({block: "center"}), true)`)
		for _, key := range []string{"o0", "o1"} {
			if !b.inPicture(`[data-key="` + key + `"]`) {
				t.Errorf("%s is out of the picture", key)
			}
		}
		b.drag("o0", 7, 4.5)
		b.drag("o1", 3, 3)
		b.wait("it is a room again", `document.querySelector(".room-wrong").textContent === "" && document.querySelector("#room-facts").textContent.includes("122.7 m²")`)
		// Or the last good room comes back.
		b.put(`#room [data-side="1"]`, "0.5")
		b.wrong("too small")
		b.click("#room-back")
		b.wait("the last good room", `document.querySelector(".room-wrong").textContent === "" && document.querySelector("#room-facts").textContent.includes("122.7 m²") && document.querySelector('#room [data-side="1"]').value === "9"`)
		if on := b.focused(); on != "room-pick" {
			t.Errorf("then the focus is on %q", on)
		}
	}
}

// inPicture tells whether something is within the plan.
func (b *tab) inPicture(selector string) bool {
	b.t.Helper()
	return js[bool](b, fmt.Sprintf(`(() => { const r = document.querySelector("#room .outline " + %q).getBoundingClientRect(), p = document.querySelector("#room .outline").getBoundingClientRect(); return r.left >= p.left && r.right <= p.right && r.top >= p.top && r.bottom <= p.bottom; })()`, selector))
}

// drag takes a handle to a place of the room.
func (b *tab) drag(key string, x, y float64) {
	b.t.Helper()
	at := js[[]float64](b, fmt.Sprintf(`(() => {
		const svg = document.querySelector("#room .outline"), r = svg.querySelector('[data-key=%q] .hit').getBoundingClientRect(), m = svg.getScreenCTM();
		const to = new DOMPoint(%g, %g).matrixTransform(m);
		return [r.x + r.width / 2, r.y + r.height / 2, to.x, to.y];
	})()`, key, x, -y))
	b.must("drag "+key, chromedp.Do(b.ctx, chromedp.DragAndDropXY(at[0], at[1], at[2], at[3], 8)))
}

// A corner that is dragged onto another, or a side without length, is told plainly; nothing
// on the sheet is then not a number, and the corner can be taken away again.
func TestBrowserRoomCorners(t *testing.T) {
	b := drawn(t, 1280, 900)
	b.drag("c2", 14, 0)
	b.wrong("Corner 3 lies on corner 2; move it away, or delete it.")
	b.put(`#room [data-side="1"]`, "5")
	b.wrong("Corner 2 and corner 3 lie on each other: move one of them away first.")
	b.drag("c2", 0, 0)
	b.wrong("lies on corner 1; move it away, or delete it.")
	b.drag("c2", 7, 0)
	b.wrong("corner")
	b.drag("c2", 7, -2)
	b.wrong("The outline crosses or touches itself: side 1 meets side 3; move a corner so that the sides lie apart.")
	if page := js[string](b, `document.querySelector("#room").innerHTML + [...document.querySelectorAll("#room input")].map((i) => i.value)`); strings.Contains(page, "NaN") || strings.Contains(page, "Infinity") {
		t.Error("something on the sheet is not a number")
	}
	b.drag("c2", 14, 9)
	b.wait("it is a room", `document.querySelector(".room-wrong").textContent === "" && document.querySelector("#room-facts").textContent.includes("126 m²")`)
	for _, refused := range []struct{ selector, value, told string }{
		{`[data-side="1"]`, "0", "Side 2 has to be from 0.1 to 500 m, and not 0 m."},
		{`[data-side="1"]`, "-4", "Side 2 has to be from 0.1 to 500 m, and not -4 m."},
		{`[data-side="1"]`, "", "Side 2 has to be a number of metres."},
		{"#room-capacity", "-2", "The posted limit has to be a whole number of couples"},
	} {
		b.put("#room "+refused.selector, refused.value)
		b.wrong(refused.told)
		if was := js[string](b, `document.querySelector('#room [data-side="1"]').value`); was != "9" {
			t.Errorf("%q: the field has %q", refused.value, was)
		}
		if words := b.text(".room-wrong"); strings.Contains(words, "last good") {
			t.Errorf("the plan is a room, and told is %q", words)
		}
	}
}

// What is put in stands within the walls on nothing else; it has the focus and is told.
func TestBrowserRoomFreePlaces(t *testing.T) {
	b := drawn(t, 1280, 900)
	for i := range 4 {
		b.click([]string{"#room-stage", "#room-column"}[i%2])
		b.wait("it is there", fmt.Sprintf(`document.querySelectorAll("#room .thing-row").length === %d`, i+1))
		if on := b.focused(); !strings.HasPrefix(on, []string{"stage at", "column 1 at", "stage 2 at", "column 2 at"}[i]) {
			t.Errorf("thing %d is put in, and the focus is on %q", i+1, on)
		}
		b.wait("it is told", `document.querySelector("#say").textContent.includes("added at")`)
	}
	// Two stages of 3 m² and two columns of π · 0.3² m².
	b.wait("all stand apart", `document.querySelector("#room-facts").textContent.includes("119.4 m²")`)
	boxes := js[[][]float64](b, `[...document.querySelectorAll("#room .outline .obstacle")].map((g) => { const r = g.querySelector("polygon, circle").getBBox(); return [r.x, -r.y - r.height, r.width, r.height]; })`)
	if len(boxes) != 4 {
		t.Fatalf("%d things are drawn", len(boxes))
	}
	for i, a := range boxes {
		if a[0] < 0 || a[1] < 0 || a[0]+a[2] > 14 || a[1]+a[3] > 9 {
			t.Errorf("thing %d stands outside: %v", i+1, a)
		}
		for j, c := range boxes[:i] {
			if a[0] < c[0]+c[2] && c[0] < a[0]+a[2] && a[1] < c[1]+c[3] && c[1] < a[1]+a[3] {
				t.Errorf("things %d and %d stand on each other: %v, %v", j+1, i+1, c, a)
			}
		}
	}
}

// The focus stays near what was deleted or added, and each is told to those who listen.
func TestBrowserRoomFocus(t *testing.T) {
	b := drawn(t, 1280, 900)
	b.click("#room-stage")
	b.click("#room-column")
	b.click("#room-column")
	press := func(selector string) {
		t.Helper()
		js[bool](b, fmt.Sprintf(`(document.querySelector(%q).focus(), document.querySelector("#say").textContent = "", true)`, selector))
		b.keys(kb.Enter)
	}
	steps := []struct{ on, then, told string }{
		{`#room [aria-label="Delete stage"]`, "Delete column 1", "Deleted: the stage."},
		{`#room [aria-label="Delete column 2"]`, "Delete column 1", "Deleted: column 2."},
		{`#room [aria-label="Delete column 1"]`, "room-column", "Nothing stands in the room."},
		{`#room [aria-label="New corner in the middle of side 2"]`, "Name of side 3", "Corner 3 added"},
		{`#room [aria-label="Delete corner 3, where side 3 begins"]`, "Delete corner 3, where side 3 begins", "Corner 3 deleted. There are 4 corners."},
		{`#room [aria-label="Delete corner 4, where side 4 begins"]`, "Name of side 3", "Corner 4 deleted. There are 3 corners."},
	}
	for _, s := range steps {
		press(s.on)
		b.wait("it is told: "+s.told, fmt.Sprintf(`document.querySelector("#say").textContent.includes(%q)`, s.told))
		if on := b.focused(); on != s.then {
			t.Errorf("after %s the focus is on %q, want %q", s.on, on, s.then)
		}
	}
	// Enter in a field keeps the focus there, and Tab goes to the next one.
	b.click("#room-new")
	js[bool](b, `(document.querySelector('#room [data-side="0"]').focus(), document.querySelector('#room [data-side="0"]').select(), true)`)
	b.keys("12" + kb.Enter)
	b.wait("12 m", `document.querySelector('#room [data-side="2"]').value === "12"`)
	if on := b.focused(); on != "Length of side 1 in metres" {
		t.Errorf("after Enter the focus is on %q", on)
	}
	js[bool](b, `(document.activeElement.select(), true)`)
	b.keys("13" + kb.Tab)
	b.wait("13 m", `document.querySelector('#room [data-side="2"]').value === "13"`)
	if on := b.focused(); on != "New corner in the middle of side 1" {
		t.Errorf("after Tab the focus is on %q", on)
	}
}

// The plan is drawn anew for another size of the window: letters and handles keep theirs,
// lengths and names are within the picture, and no handle or word covers another.
func TestBrowserRoomSizes(t *testing.T) {
	b := drawn(t, 1280, 900)
	b.click("#room-stage")
	b.click("#room-column")
	b.put("#room [data-side=\"0\"]", "14.25")
	b.wait("all are drawn", `document.querySelectorAll("#room .outline .name").length === 2`)
	for _, wide := range []int64{1280, 360, 2560, 700, 360} {
		high := int64(800)
		b.must("another size", chromedp.Do(b.ctx, chromedp.EmulateViewport(wide, high)))
		b.wait("letters have their size", fmt.Sprintf(`innerWidth === %d && Math.abs(document.querySelector("#room .outline .length").getBoundingClientRect().height / parseFloat(getComputedStyle(document.documentElement).fontSize) - 0.95) < 0.35`, wide))
		js[bool](b, `(document.querySelector("#room .outline").scrollIntoView({block: "center"}), true)`)
		boxes := `[...document.querySelectorAll("#room .outline .length, #room .outline .name, #room .outline .handle circle:not(.hit)")].map((e) => ({e: e, r: e.getBoundingClientRect()}))`
		if n := js[int](b, `document.querySelectorAll("#room .outline .length").length`); n != 4 {
			t.Errorf("%d pixels: %d lengths of 4", wide, n)
		}
		if n := js[int](b, `document.querySelectorAll("#room .outline .name").length`); n != 2 {
			t.Errorf("%d pixels: %d names of 2", wide, n)
		}
		out := js[[]string](b, `((all) => { const p = document.querySelector("#room .outline").getBoundingClientRect(); return all.filter(({r}) => r.left < p.left || r.right > p.right || r.top < p.top || r.bottom > p.bottom).map(({e}) => e.outerHTML); })(`+boxes+`)`)
		if len(out) > 0 {
			t.Errorf("%d pixels: out of the picture is %q", wide, out)
		}
		over := js[[]string](b, `((all) => all.flatMap((a, i) => all.slice(0, i).filter((c) => a.r.left < c.r.right - 1 && c.r.left < a.r.right - 1 && a.r.top < c.r.bottom - 2 && c.r.top < a.r.bottom - 2).map((c) => a.e.outerHTML + " is on " + c.e.outerHTML)))(`+boxes+`)`)
		if len(over) > 0 {
			t.Errorf("%d pixels: %q", wide, over)
		}
		if small := js[float64](b, `Math.min(...[...document.querySelectorAll("#room .handle .hit")].map((e) => e.getBoundingClientRect().width))`); small < 24 {
			t.Errorf("%d pixels: a handle takes %.0f", wide, small)
		}
	}
}

// A plan that is no room and a question about what is saved are looked over by axe-core, too.
func TestBrowserRoomAccessible(t *testing.T) {
	axe := axeCore(t)
	for _, dark := range []bool{false, true} {
		b := drawn(t, 360, 740)
		if dark {
			b.dark()
		}
		b.must("axe", chromedp.Do(b.ctx, chromedp.Evaluate[chromedp.Void](axe)))
		b.saveRoom("Quay hall")
		b.click("#room-stage")
		b.put(`#room [data-thing="0"][data-field="Middle x"]`, "30")
		b.wrong("The stage reaches")
		b.click(`#room .keeper .row:nth-of-type(1) button:nth-of-type(2)`)
		b.wait("it is asked", `!document.querySelector("#room .question").hidden`)
		b.audit(fmt.Sprintf("no room, dark %v", dark))
		// The top of the sheet covers nothing that has the focus.
		for range 30 {
			b.must("back", chromedp.Do(b.ctx, chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift))))
			if hidden := js[string](b, `(() => { const e = document.activeElement, w = document.querySelector(".room-wrong .error"); if (e === document.body || w.contains(e)) return ""; const r = e.getBoundingClientRect(), o = w.getBoundingClientRect(); return r.top >= o.top && r.bottom <= o.bottom ? e.outerHTML.slice(0, 90) : ""; })()`); hidden != "" {
				t.Errorf("the fault covers what has the focus: %s", hidden)
			}
		}
	}
}

// Every sentence in which the program says why a plan is no room comes in the names of the
// page; what is sent is what the page would send.
func TestBrowserRoomSentences(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#room")
	const hall = `[[0, 0], [14, 0], [14, 9], [0, 9]]`
	for _, row := range []struct{ outline, things, more, want string }{
		{`[[0, 0], [14, 0], [14, 0], [0, 9]]`, ``, ``, "Corner 3 lies on corner 2; move it away, or delete it."},
		{`[[0, 0], [14, 0], [14, 9], [0, 0]]`, ``, ``, "The last corner lies on corner 1; move it away, or delete it."},
		{`[[0, 0], [14, 0], [0, 9], [14, 9]]`, ``, ``, "The outline crosses or touches itself: side 2 meets side 4; move a corner so that the sides lie apart."},
		{`[[0, 0], [4, 0], [8, 0], [14, 0]]`, ``, ``, "The corners lie in one line and enclose no floor."},
		{`[[0, 0], [14, 0], [5, 0], [0, 9]]`, ``, ``, "The outline doubles back on itself at corner 2; move that corner, or delete it."},
		{`[[0, 0], [14, 0], [14, 9], [0, 9000000]]`, ``, ``, "Corner 4: it has to be from -200 to 200, and is 9000000."},
		{`[[0, 0], [190, 0], [190, 0.5], [0, 0.5]]`, ``, ``, "The room is 190 × 0.5 m, too small for any couple: each way it must measure at least 2 m."},
		{`[[-199, 0], [199, 0], [199, 9], [-199, 9]]`, ``, ``, "The room is 398 × 9 m, more than the 200 m that are planned for."},
		{hall, `{name: "band", outline: [[12, 3], [16, 3], [16, 5], [12, 5]].map(at)}`, ``, "The band reaches 2 m out of the room; move it inside the walls, or delete it."},
		{hall, `{name: "The \"Crow\" bar [2]", outline: [[12, 3], [16, 3], [16, 5], [12, 5]].map(at)}`, ``, `The "Crow" bar [2] reaches 2 m out of the room; move it inside the walls, or delete it.`},
		{hall, `{name: "", outline: [], centre: {x: 30, y: 3}, radius: 0.3}`, ``, "Thing 1 reaches 16.3 m out of the room; move it inside the walls, or delete it."},
		{hall, `{name: "column 1", outline: [], centre: {x: 7, y: 3}, radius: 600}`, ``, "The radius of column 1: it has to be from 0.01 to 200, and is 600."},
		{hall, `{name: "bar", outline: [[5, 3], [5, 3], [7, 4]].map(at)}`, ``, "The bar: corner 2 lies on corner 1; move it away, or delete it."},
		{hall, `{name: "bar", outline: [[0, 0], [14, 0], [14, 5], [0, 5]].map(at)}`, ``, "No couple can take"},
		{hall, ``, `capacity: 1e8`, "The posted limit: it has to be from 1 to 5000, and is 100000000."},
		{hall, ``, `margin: -1`, "What is kept free at the walls: it has to be from 0 to "},
		{hall, ``, `name: " "`, "The room’s name: a word or text is expected here, not an empty one."},
		{hall, ``, `walls: ["a", " ", "c", "d"]`, "The name of side 2: a word or text is expected here, not an empty one."},
	} {
		told := js[[]string](b, `Promise.all(["planwords", "rooms", "files"].map((n) => import("/assets/" + n + ".js"))).then(async ([words, rooms, files]) => {
			const at = ([x, y]) => ({x, y}), plan = Object.assign({name: "Our hall", margin: "", capacity: 0, walls: [], outline: `+row.outline+`.map(at), obstacles: [`+row.things+`]}, {`+row.more+`});
			return rooms.readRoom(files.roomFile(plan)).then(() => ["it is a room"], (e) => words.plainly(e.raw, plan));
		})`)
		if len(told) == 0 || !strings.HasPrefix(told[0], row.want) {
			t.Errorf("%s %s %s: %q, want %q", row.outline, row.things, row.more, told, row.want)
		}
		if all := strings.Join(told, " "); strings.Contains(all, "yaml") || strings.Contains(all, "obstacle") || strings.Contains(all, "outline[") || strings.Contains(all, "walls[") {
			t.Errorf("%q has names that only files have", all)
		}
	}
}

// Changes of a plan are taken back, by the button and by Ctrl-Z; a refusal goes when something
// else is typed.
func TestBrowserRoomUndo(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#room")
	b.wait("the room's sheet", `document.querySelector("#room-name") && document.querySelector("#room-name").value`)
	sides := `document.querySelectorAll("#room .sides tbody tr").length`
	b.click(`#room [aria-label="Delete corner 2, where side 2 begins"]`)
	b.wait("a corner less", sides+" === 3")
	b.click("#room-undo")
	b.wait("it is back", sides+" === 4")
	if !js[bool](b, `document.querySelector("#room-undo").disabled`) {
		t.Error("there is more to take back than was done")
	}
	b.click("#room-column")
	b.wait("a column", `document.querySelectorAll("#room .thing-row").length === 3`)
	js[bool](b, `(document.querySelector("#room-title").focus(), true)`)
	b.must("Ctrl-Z", chromedp.Do(b.ctx, chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))))
	b.wait("it is gone", `document.querySelectorAll("#room .thing-row").length === 2`)
	b.wait("the lap has it so", `document.querySelector("#now").textContent.includes("Upper Merle")`)
	b.put(`#room [data-side="0"]`, "0")
	b.wait("a refusal", `document.querySelector("#room [role=alert]").textContent.includes("Side 1 has to be")`)
	js[bool](b, `(document.querySelector('#room [data-side="0"]').dispatchEvent(new Event("input", {bubbles: true})), true)`)
	b.wait("it is gone", `document.querySelector("#room [role=alert]").textContent === ""`)
}
