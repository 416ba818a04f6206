package handout_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/golden"
	"lapwright/cmd/internal/handout"
	"lapwright/cmd/internal/outside"
	"lapwright/cmd/internal/sheet"
	"lapwright/figures"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/check"
	"lapwright/search/routine"
)

// day is when the sheets of the tests are made.
var day = time.Date(2026, 3, 14, 19, 30, 0, 0, time.UTC)

// asked dances figures along a wall of a room.
func asked(t testing.TB, room *floors.Room, title string, names ...string) handout.Asked {
	t.Helper()
	r := &routine.Routine{Name: title, Tempo: 29, Start: search.DefaultStart(room, 0)}
	for _, name := range names {
		v, ok := figures.BuiltIn().Variant(name)
		if !ok {
			t.Fatal(name)
		}
		r.Steps = append(r.Steps, routine.Step{Variant: v, Scale: 1})
	}
	r.Start.Stance = r.Steps[0].Variant.Entries[0]
	report := check.Dance(room, figures.DefaultCouple(), r, check.Limits{Margin: -1})
	checked := answer.NewChecked(report, r)
	return handout.Asked{Title: title, Heading: "waltz, stride 0.65 m, in " + room.Name, Report: report, Routine: checked.Routine, Faults: checked.Faults,
		Cautions: "Take care: leave room for other couples.", Made: "lapwright sheet lesson.yaml --pdf lesson.pdf", Date: day}
}

func hall(t testing.TB) *floors.Room {
	t.Helper()
	room, ok := floors.Named("village hall")
	if !ok {
		t.Fatal("there is no village hall")
	}
	return room
}

var lesson = []string{"Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change", "Natural Turn (1-3)", "Outside Change (from backing line of dance)"}

func Example() {
	room, _ := floors.Named("village hall")
	turn, _ := figures.BuiltIn().Variant("Natural Turn")
	r := &routine.Routine{Start: search.DefaultStart(room, 0), Steps: []routine.Step{{Variant: turn, Scale: 1}}}
	r.Start.Stance = turn.Entries[0]
	report := check.Dance(room, figures.DefaultCouple(), r, check.Limits{Margin: -1})
	h := handout.New(handout.Asked{Title: "First lesson", Report: report, Routine: answer.NewRoutine(report, r)})
	data, err := h.PDF(handout.A4)
	fmt.Println(string(data[:5]), err, h.Calls[0].List[0].Figure)
	// Output: %PDF- <nil> Natural Turn
}

// pdf sets a handout, to a file.
func pdf(t testing.TB, what interface {
	PDF(handout.Paper) ([]byte, error)
}, paper handout.Paper) string {
	t.Helper()
	data, err := what.PDF(paper)
	if err != nil {
		t.Fatal(err)
	}
	if len(data) > 1_000_000 {
		t.Errorf("the file has %d bytes; a million is the most", len(data))
	}
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// read has a program read a file.
func read(t testing.TB, program string, args ...string) string {
	t.Helper()
	out, err := exec.Command(program, args...).Output()
	if err != nil {
		t.Fatalf("%s %s: %v", program, args, err)
	}
	return string(out)
}

// withoutLooks leaves out of a page how it looks, and the drawings, which have golden
// files of their own.
func withoutLooks(page string) string {
	for _, part := range []string{"svg", "style"} {
		for strings.Contains(page, "<"+part) {
			before, rest, _ := strings.Cut(page, "<"+part)
			_, after, _ := strings.Cut(rest, "</"+part+">")
			page = before + strings.ToUpper(part) + after
		}
	}
	return page
}

// TestWords holds what stands on the sheets to what it was.
func TestWords(t *testing.T) {
	for _, c := range []struct {
		name  string
		names []string
	}{
		{"lesson.html", lesson},
		{"fault.html", []string{"Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Reverse Turn", "Whisk"}},
		{"fault-at-once.html", []string{"Chassé from Promenade", "Reverse Turn"}},
	} {
		ask := asked(t, hall(t), "Lesson & <more>", c.names...)
		if c.name == "fault-at-once.html" {
			// The first figure cannot be danced from where the couple stands.
			ask = faultAtOnce(t)
		}
		page, err := handout.New(ask).HTML(handout.A4)
		if err != nil {
			t.Fatal(err)
		}
		golden.Text(t, filepath.Join("testdata", c.name), withoutLooks(string(page)))
	}
}

// faultAtOnce is a routine of which not one figure can be danced.
func faultAtOnce(t testing.TB) handout.Asked {
	t.Helper()
	ask := asked(t, hall(t), "Never", "Reverse Turn", "Whisk")
	r := &routine.Routine{Name: "Never", Tempo: 29, Start: ask.Report.Start}
	for i := range ask.Report.Rows {
		r.Steps = append(r.Steps, routine.Step{Variant: ask.Report.Rows[i].Variant, Scale: 1})
	}
	natural, _ := figures.BuiltIn().Variant("Natural Turn")
	r.Start.Stance = natural.Entries[0]
	report := check.Dance(ask.Report.Room, figures.DefaultCouple(), r, check.Limits{Margin: -1})
	checked := answer.NewChecked(report, r)
	ask.Report, ask.Routine, ask.Faults = report, checked.Routine, checked.Faults
	return ask
}

// TestFault: a routine is drawn up to its fault, and what comes after is told, not danced.
func TestFault(t *testing.T) {
	h := handout.New(asked(t, hall(t), "Faulty", "Natural Turn", "Right Foot Closed Change", "Reverse Turn", "Reverse Turn", "Whisk"))
	if h.Fault == nil || h.Danced != 3 || h.Fault.Bar != 6 || h.Fault.Figure != "Reverse Turn" || len(h.Fault.Left) != 2 {
		t.Fatalf("danced %d, fault %+v", h.Danced, h.Fault)
	}
	for _, calls := range h.Calls {
		for _, c := range calls.List {
			if c.Figure == "Whisk" {
				t.Error("what comes after the fault is called")
			}
		}
	}
	drawing := string(h.Floor(sheet.Title{Name: "Faulty"}))
	if !strings.Contains(drawing, `class="fault"`) || !strings.Contains(drawing, "6  Reverse Turn (fault)") || strings.Contains(drawing, "Whisk") {
		t.Error("the drawing does not end with the fault")
	}
	if once := handout.New(faultAtOnce(t)); once.Danced != 0 || once.Fault == nil || len(once.Figures) != 0 {
		t.Errorf("danced %d", once.Danced)
	} else {
		pdf(t, once, handout.A4)
	}
}

// TestNames: names of people's own never become part of a page (the OWASP rule that
// what comes from outside is escaped for where it is put).
func TestNames(t *testing.T) {
	for _, name := range []string{`<script>alert("x")</script>`, `"><img src=x onerror=alert(1)>`, "Łucja & José – Straße", strings.Repeat("Endless", 400), "月のワルツ", "\x00\x1b[31mred\nlines", "‮backwards"} {
		room := *hall(t)
		room.Name = name
		ask := asked(t, &room, name, lesson...)
		ask.Made = name
		h := handout.New(ask)
		page, err := h.HTML(handout.Letter)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(page, []byte("<script")) || bytes.Contains(page, []byte("<img")) {
			t.Errorf("%.30q becomes part of the page", name)
		}
		pdf(t, h, handout.Letter)
		cards := handout.Cards{Title: name, List: []handout.Card{handout.NewCard(h)}, Cautions: name, Made: name, Date: day}
		if page, err = cards.HTML(handout.A4); err != nil || bytes.Contains(page, []byte("<script")) {
			t.Errorf("cards of %.30q: %v", name, err)
		}
		pdf(t, &cards, handout.A4)
	}
}

// TestSame: the same routine gives the same file.
func TestSame(t *testing.T) {
	h := handout.New(asked(t, hall(t), "Lesson", lesson...))
	first, err := h.PDF(handout.A4)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		if again, _ := handout.New(asked(t, hall(t), "Lesson", lesson...)).PDF(handout.A4); !bytes.Equal(first, again) {
			t.Fatal("it differs")
		}
	}
}

// TestStepTables: the steps on a sheet are those of the published chart, for both dancers
// (the natural turn as it stands in testdata/charts, which names its sources).
func TestStepTables(t *testing.T) {
	h := handout.New(asked(t, hall(t), "Lesson", "Natural Turn"))
	for who, want := range [][]string{
		{"1 right forward facing diagonal to wall", "2 left side backing diagonal to centre", "3 right closes backing line of dance",
			"1 left back backing line of dance", "2 right side pointing diagonal to centre", "3 left closes facing diagonal to centre"},
		{"1 left back backing diagonal to wall", "2 right side pointing line of dance", "3 left closes facing line of dance",
			"1 right forward facing line of dance", "2 left side backing centre", "3 right closes backing diagonal to centre"},
	} {
		table := h.Figures[0].Tables[who]
		for i, row := range table.Rows {
			direction, _, _ := strings.Cut(row[4], " (")
			direction, _, _ = strings.Cut(direction, " and slightly") // the chart has the main direction
			if got := strings.Join([]string{row[2], row[3], direction, row[5]}, " "); got != want[i] {
				t.Errorf("%s, step %d: %q, want %q", table.Who, i+1, got, want[i])
			}
		}
	}
}

// TestEachFigureOnce: the steps of every figure that is danced are there, once.
func TestEachFigureOnce(t *testing.T) {
	h := handout.New(asked(t, hall(t), "Lesson", append(append([]string{}, lesson[:4]...), lesson...)...))
	seen := map[string]int{}
	for _, f := range h.Figures {
		seen[f.Name]++
	}
	for i := range h.Danced {
		if name := h.Report.Rows[i].Variant.Name(); seen[name] != 1 {
			t.Errorf("%s stands there %d times", name, seen[name])
		}
	}
}

// words is a word on a page, as a program that reads PDF finds it.
type word struct {
	page                   int
	low, high, left, right float64
	text                   string
}

// wordsOf reads the words of a PDF with their places (pdftotext of Poppler).
func wordsOf(t testing.TB, path string) (all []word, wide, high float64, ok bool) {
	t.Helper()
	program, ok := outside.Program(t, "pdftotext")
	if !ok {
		return nil, 0, 0, false
	}
	out := read(t, program, "-bbox", path, "-")
	page := 0
	for _, line := range strings.Split(out, "\n") {
		line = strings.TrimSpace(line)
		number := func(name string) float64 {
			_, rest, _ := strings.Cut(line, name+`="`)
			value, _, _ := strings.Cut(rest, `"`)
			x, _ := strconv.ParseFloat(value, 64)
			return x
		}
		switch {
		case strings.HasPrefix(line, "<page "):
			page++
			wide, high = number("width"), number("height")
		case strings.HasPrefix(line, "<word "):
			_, text, _ := strings.Cut(line, ">")
			text, _, _ = strings.Cut(text, "</word>")
			all = append(all, word{page, number("yMin"), number("yMax"), number("xMin"), number("xMax"), text})
		}
	}
	return all, wide, high, true
}

// TestOnThePage: whatever the room and however long the routine, every word is on its
// page, the floor is in scale, and what is called is all there, in order.
func TestOnThePage(t *testing.T) {
	if _, ok := outside.Program(t, "pdftotext"); !ok {
		return
	}
	rapid.Check(t, func(rt *rapid.T) {
		wide, deep := rapid.Float64Range(5, 60).Draw(rt, "wide"), rapid.Float64Range(5, 60).Draw(rt, "deep")
		room, err := floors.Load("drawn.yaml", []byte(fmt.Sprintf("name: Drawn\noutline: [[0, 0], [%.2f, 0], [%.2f, %.2f], [0, %.2f]]\n", wide, wide, deep, deep)))
		if err != nil {
			rt.Skip(err)
		}
		n := rapid.IntRange(1, 150).Draw(rt, "figures")
		var names []string
		for i := range n {
			names = append(names, []string{"Natural Turn (1-3)", "Natural Turn (4-6)", "Right Foot Closed Change", "Reverse Turn", "Left Foot Closed Change"}[i%5])
		}
		ask := asked(t, room, "A drawn room", names...)
		ask.Faults = nil // the room is not the point, the page is
		h := handout.New(ask)
		paper := rapid.SampledFrom(handout.Papers).Draw(rt, "paper")
		all, pageWide, pageHigh, _ := wordsOf(t, pdf(t, h, paper))
		if abs(pageWide-paper.Width*72/25.4) > 1 || abs(pageHigh-paper.Height*72/25.4) > 1 {
			rt.Fatalf("the page is %g by %g points", pageWide, pageHigh)
		}
		called := 0
		for _, w := range all {
			if w.left < 20 || w.low < 10 || w.right > pageWide-20 || w.high > pageHigh-10 {
				rt.Errorf("page %d: %q lies off the page: %g to %g, %g to %g", w.page, w.text, w.left, w.right, w.low, w.high)
			}
			if w.text == strconv.Itoa(h.Report.Rows[min(called, n-1)].Bar) && w.high-w.low > 14 {
				called++
			}
		}
		if called != n {
			rt.Errorf("%d of %d figures are called", called, n)
		}
	})
}

func abs(x float64) float64 { return max(x, -x) }

// TestReadBack: the PDF is sound, its type is embedded, and its words can be searched, as
// programs that nobody here wrote find (Poppler, QPDF).
func TestReadBack(t *testing.T) {
	path := pdf(t, handout.New(asked(t, hall(t), "Łucja, José, Weiß & 月", lesson...)), handout.A4)
	if program, ok := outside.Program(t, "qpdf"); ok {
		read(t, program, "--check", path)
	}
	if program, ok := outside.Program(t, "pdffonts"); ok {
		lines := strings.Split(strings.TrimSpace(read(t, program, path)), "\n")[2:]
		if len(lines) != 2 {
			t.Errorf("%d kinds of type", len(lines))
		}
		for _, line := range lines {
			if f := strings.Fields(line); f[len(f)-5] != "yes" || f[len(f)-3] != "yes" {
				t.Errorf("not embedded, or without its letters' names: %s", line)
			}
		}
	}
	if program, ok := outside.Program(t, "pdfinfo"); ok {
		info := read(t, program, path)
		for _, want := range []string{"Łucja, José, Weiß & 月", "Lapwright", "A4", "Sat Mar 14"} {
			if !strings.Contains(info, want) {
				t.Errorf("the file's own data lacks %q:\n%s", want, info)
			}
		}
	}
	if program, ok := outside.Program(t, "pdftotext"); ok {
		text := read(t, program, "-layout", path, "-")
		for _, want := range []string{"Łucja, José, Weiß & □", "□ stands for a letter", "Right Foot Closed Change", "To be called", "The steps", "What to mind", "Take care", "lapwright sheet lesson.yaml", "1 : "} {
			if !strings.Contains(text, want) {
				t.Errorf("%q is not found in:\n%s", want, text)
			}
		}
	}
}

// TestLetters: every letter that the library and the rooms use can be printed.
func TestLetters(t *testing.T) {
	for _, c := range []struct {
		in, want string
		lacking  bool
	}{
		{"Chassé", "Chassé", false}, {"Łódź, Straße, Ångström, Dvořák, ½ – “x” …", "Łódź, Straße, Ångström, Dvořák, ½ – “x” …", false},
		{"Вальс, Βαλς", "Вальс, Βαλς", false}, {"ワルツ 3", "□□□ 3", true}, {"a\tb\nc", "a b c", false}, {"😀", "□", true}, {"", "", false},
	} {
		if got, lacking := handout.Printable(c.in); got != c.want || lacking != c.lacking {
			t.Errorf("%q: %q, %t", c.in, got, lacking)
		}
	}
	for _, v := range figures.BuiltIn().Variants() {
		for _, words := range []string{v.Name(), v.Figure.Note} {
			if _, lacking := handout.Printable(words); lacking {
				t.Errorf("%q cannot be printed", words)
			}
		}
	}
}

func TestParsePaper(t *testing.T) {
	for name, want := range map[string]string{"a4": "A4", " Letter ": "Letter", "letter": "Letter"} {
		if p, err := handout.ParsePaper(name); err != nil || p.Name != want {
			t.Errorf("%q: %v, %v", name, p, err)
		}
	}
	for _, name := range []string{"", "A5", "legal", "A4 landscape"} {
		if _, err := handout.ParsePaper(name); err == nil || !strings.Contains(err.Error(), "write A4 or Letter") {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// TestCards: each drill has a card with all its calls, two to a page where they fit.
func TestCards(t *testing.T) {
	cards := handout.Cards{Title: "Drills", Cautions: "Take care.", Made: "lapwright drill", Date: day}
	for i := range 5 {
		h := handout.New(asked(t, hall(t), "Drill "+strconv.Itoa(i+1), lesson...))
		cards.List = append(cards.List, handout.NewCard(h))
	}
	page, err := cards.HTML(handout.A4)
	if err != nil {
		t.Fatal(err)
	}
	golden.Text(t, filepath.Join("testdata", "cards.html"), withoutLooks(string(page)))
	all, _, _, ok := wordsOf(t, pdf(t, &cards, handout.A4))
	if !ok {
		return
	}
	named := 0
	for _, w := range all {
		if w.text == "Drill" {
			named++
		}
	}
	// A page further on says "Drills" above.
	if last := all[len(all)-1].page; named != 5 || last != 3 {
		t.Errorf("%d of 5 cards on %d pages", named, last)
	}
}

// BenchmarkPDF sets a routine of 64 bars.
func BenchmarkPDF(b *testing.B) {
	var names []string
	for range 12 {
		names = append(names, lesson[:4]...)
	}
	ask := asked(b, hall(b), "Sixty-four bars", names...)
	ask.Faults = nil
	if bars := ask.Report.Bars; bars < 64 {
		b.Fatal(bars)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := handout.New(ask).PDF(handout.A4); err != nil {
			b.Fatal(err)
		}
	}
}

// A card spells out every short form that is on it, where the leader backs as well.
func TestLegend(t *testing.T) {
	c := handout.Card{Calls: []handout.CardCall{{Ends: "backing LOD LF closed"}, {Ends: "DC RF promenade"}, {Ends: "backing DWA LF closed"}}}
	if got, want := c.Legend(), "LOD line of dance, DC diagonal to centre, DWA diagonal to wall against line of dance, LF left foot free, RF right foot free."; got != want {
		t.Errorf("%q, not %q", got, want)
	}
}
