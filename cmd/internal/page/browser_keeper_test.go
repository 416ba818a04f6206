package page_test

import (
	"encoding/json"
	"fmt"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// saveRoom saves the room under a name.
func (b *tab) saveRoom(name string) {
	b.t.Helper()
	b.put("#rooms-name", name)
	b.keys(kb.Enter)
	b.wait(name+" is saved by Enter", fmt.Sprintf(`document.querySelector("#room .keeper .told").textContent === "Saved as “%s”."`, name))
}

// told waits until the form for what is saved tells something.
func (b *tab) told(words string) {
	b.t.Helper()
	b.wait("it tells: "+words, fmt.Sprintf(`document.querySelector("#room .keeper .told").textContent.includes(%q)`, words))
}

// answer presses one of the buttons under a question.
func (b *tab) answer(words string) {
	b.t.Helper()
	b.wait("it can be answered: "+words, fmt.Sprintf(`[...document.querySelectorAll("#room .question:not([hidden]) button")].some((e) => e.textContent === %q)`, words))
	js[bool](b, fmt.Sprintf(`([...document.querySelectorAll("#room .question button")].find((e) => e.textContent === %q).focus(), true)`, words))
	b.keys(kb.Enter)
}

// A room is saved by Enter and goes by its saved name in the lists of rooms, by its own at
// the top; deleting is asked for once more, and the focus is never lost.
func TestBrowserRoomSaved(t *testing.T) {
	b := drawn(t, 1280, 900)
	b.put("#room-name", "Dress circle")
	b.wait("its own name is at the top", `document.querySelector("#now").textContent.includes("Dress circle")`)
	b.saveRoom("Quay hall")
	for _, list := range []string{"#room-pick", "#lap-room", "#rooms-saved"} {
		b.wait(list+" has the saved name", fmt.Sprintf(`document.querySelector(%q).selectedOptions[0]?.textContent === "Quay hall"`, list))
	}
	if words := b.text("#now"); !strings.Contains(words, "Dress circle") {
		t.Errorf("at the top stands %q", words)
	}
	b.put("#room-pick", "b:studio")
	b.wait("the studio", `document.querySelector("#now").textContent.includes("Sailmaker")`)
	b.wait("nothing that is saved is open", `document.querySelector("#rooms-name").value === ""`)
	b.put("#rooms-saved", "Quay hall")
	b.click("#room .keeper .row:nth-of-type(1) button")
	b.told("“Quay hall” is open.")
	b.wait("it goes by its saved name", `document.querySelector("#room-pick").selectedOptions[0]?.textContent === "Quay hall" && document.querySelector("#now").textContent.includes("Dress circle")`)
	if own := js[bool](b, `Boolean(document.querySelector('#room-pick option[value="own"]'))`); own {
		t.Error("the list has the room twice")
	}
	// Deleting: No and Escape leave it, with the focus where it was.
	del := `#room .keeper .row:nth-of-type(1) button:nth-of-type(2)`
	for _, no := range []string{kb.Enter, kb.Escape} {
		b.click(del)
		b.wait("it is asked", `document.querySelector("#room .question").innerText.startsWith("Delete “Quay hall” for good?")`)
		if words := b.text("#room .keeper .told"); words != "" {
			t.Errorf("what was told before is still there: %q", words)
		}
		if on := b.focused(); on != "No" {
			t.Errorf("the focus is on %q", on)
		}
		b.keys(no)
		b.wait("it is asked no more", `document.querySelector("#room .question").hidden`)
		if on := b.focused(); on != "Delete" {
			t.Errorf("after No the focus is on %q", on)
		}
	}
	b.click(del)
	b.answer("Yes, delete")
	b.told("“Quay hall” is deleted.")
	if on := b.focused(); on != "rooms-saved" {
		t.Errorf("the focus is on %q", on)
	}
	b.wait("it is not saved any more, but still there", `document.querySelector("#room-pick").selectedOptions[0]?.textContent === "Dress circle (not saved)"`)
	// Names that no file can have are told before anything is sent.
	for bad, words := range map[string]string{".": "begins with a letter or a digit", "..": "begins with a letter or a digit", "a/b": "begins with a letter", "CON": "the name CON for themselves", "lpt1": "the name LPT1 for themselves", "-x": "begins with a letter"} {
		b.put("#rooms-name", bad)
		b.keys(kb.Enter)
		b.told(words)
		if on := b.focused(); on != "rooms-name" {
			t.Errorf("%q: the focus is on %q", bad, on)
		}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, address := range b.asked {
		if strings.Contains(address, "/saved/") && !strings.HasSuffix(address, "/saved/") && !strings.HasSuffix(address, "/saved/rooms/Quay%20hall") {
			t.Errorf("asked for %s", address)
		}
	}
}

// Where another window has saved a newer one, it can be opened, or ours be saved under
// another name; where it has deleted it, the same is told.
func TestBrowserRoomNewer(t *testing.T) {
	b, at := window(t, 1280, 900, "/#room")
	b.allow = []string{"status of 412"}
	b.rectangle()
	b.saveRoom("Quay hall")
	other := windowAt(t, at, 1000, 800, "/#room")
	other.allow = b.allow
	other.rectangle()
	other.put("#rooms-name", "Quay hall")
	other.keys(kb.Enter)
	other.told("There is one of that name already")
	other.answer("Open that one")
	other.told("“Quay hall” is open.")
	other.put(`#room [data-side="0"]`, "17")
	other.wait("it is changed", `document.querySelector("#room-facts").textContent.includes("153 m²")`)
	other.saveRoom("Quay hall")

	b.put(`#room [data-side="0"]`, "15")
	b.wait("ours is another", `document.querySelector("#room-facts").textContent.includes("135 m²")`)
	b.put("#rooms-name", "Quay hall")
	b.keys(kb.Enter)
	b.told("changed in another window")
	if on := b.focused(); on != "Save mine under another name" {
		t.Errorf("the focus is on %q", on)
	}
	b.keys(kb.Enter)
	if on := b.focused(); on != "rooms-name" {
		t.Errorf("the focus is on %q", on)
	}
	b.saveRoom("Quay hall 2")
	b.put("#rooms-name", "Quay hall")
	b.keys(kb.Enter)
	b.told("changed in another window")
	b.answer("Open the newer one")
	b.told("“Quay hall” is open.")
	b.wait("it is the newer one", `document.querySelector("#room-facts").textContent.includes("153 m²")`)
	if on := b.focused(); on != "Open" {
		t.Errorf("the focus is on %q", on)
	}
	// The other window deletes it.
	other.put("#rooms-saved", "Quay hall")
	other.click(`#room .keeper .row:nth-of-type(1) button:nth-of-type(2)`)
	other.answer("Yes, delete")
	other.told("is deleted")
	b.put("#rooms-name", "Quay hall")
	b.keys(kb.Enter)
	b.told("deleted in the meantime")
	b.answer("Save mine under another name")
	b.saveRoom("Quay hall 3")
}

// A file in the folder that is no room is told in the names of the page.
func TestBrowserRoomBadFile(t *testing.T) {
	b, at := window(t, 1280, 900, "/#room")
	kept(t, at, "PUT", "/saved/rooms/Odd", "name: Odd\noutline: [[0, 0], [9, 0], [9, 6], [0, 6]]\nobstacles:\n  - {outline: [[1, 1], [1, 1], [2, 2]]}\n", "If-None-Match", "*")
	b.rectangle()
	b.saveRoom("Even") // which lists anew
	b.put("#rooms-saved", "Odd")
	b.click("#room .keeper .row:nth-of-type(1) button")
	b.told("This room cannot be opened. Thing 1: corner 2 lies on corner 1; move it away, or delete it.")
}

// The page refuses the names that the server refuses, and no others.
func TestBrowserNames(t *testing.T) {
	b, at := window(t, 1280, 900, "/#room")
	names := []string{"", " ", " x", "x ", ".", "..", "a/b", `a\b`, "a.b", "CON", "con", "Nul", "aux", "PRN", "com1", "LPT9", "com", "com10", "Conway", "CON 2", "-x", "x-", "'x", "x'", "_x", "Zoë’s hall", "Zoe\u0308", "\u0308x", "Größe_3", "室内 1", "𒀀", strings.Repeat("x", 60), strings.Repeat("x", 61), strings.Repeat("𒀀", 50), strings.Repeat("𒀀", 51), strings.Repeat("é", 60), "a\tb", "a\u00a0b", "\u202eabc", "½", "a²", "٣ rooms"}
	list, err := json.Marshal(names)
	if err != nil {
		t.Fatal(err)
	}
	faults := js[[]string](b, `import("/assets/names.js").then((m) => `+string(list)+`.map(m.nameFault))`)
	for i, name := range names {
		status, text, version := kept(t, at, "PUT", "/saved/rooms/"+url.PathEscape(name), "x", "If-None-Match", "*")
		if (status == 204) != (faults[i] == "") {
			t.Errorf("%q: the page says %q, the server %d %s", name, faults[i], status, text)
		}
		if status == 204 {
			kept(t, at, "DELETE", "/saved/rooms/"+url.PathEscape(name), "", "If-Match", version)
		}
	}
	for words, want := range map[string]string{"  Our hall. ": "Our hall", "-- x": "x", "CON": "", "...": "", "Bar/Bistro": "Bar Bistro"} {
		if got := js[string](b, fmt.Sprintf(`import("/assets/names.js").then((m) => m.tidy(%q))`, words)); got != want {
			t.Errorf("%q becomes %q, want %q", words, got, want)
		}
	}
}

// Classes and routines are saved by Enter, too, and deleted after a question.
func TestBrowserKeeper(t *testing.T) {
	b, _ := window(t, 1280, 900, "/#class")
	b.wait("the figures", `document.querySelectorAll("#book li").length > 10`)
	b.click(`#book li[data-name="Natural Turn"] input`)
	b.click(`.tabs a[data-screen="lap"]`)
	b.studioLap()
	b.unfold("#write-fold")
	b.put("#routine-text", "Natural Turn")
	for _, kind := range []struct{ kind, screen, root string }{{"classes", "class", "#class"}, {"routines", "lap", "#write"}} {
		b.click(`.tabs a[data-screen="` + kind.screen + `"]`)
		b.wait("the sheet is shown", `document.activeElement.id === "`+kind.screen+`-title"`)
		b.put("#"+kind.kind+"-name", "Evening")
		b.keys(kb.Enter)
		told := `document.querySelector("` + kind.root + ` .keeper .told").textContent`
		b.wait("it is saved", told+` === "Saved as “Evening”."`)
		b.click(kind.root + ` .keeper .row:nth-of-type(1) button:nth-of-type(2)`)
		b.wait("it is asked", `document.querySelector("`+kind.root+` .question").innerText.startsWith("Delete “Evening” for good?")`)
		b.must("to Yes", chromedp.Do(b.ctx, chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift))))
		b.keys(kb.Enter)
		b.wait("it is deleted", told+` === "“Evening” is deleted."`)
	}
}
