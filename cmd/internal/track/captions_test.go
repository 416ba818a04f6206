package track_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwright/cmd/internal/outside"
	"lapwright/cmd/internal/track"
)

func TestCaptions(t *testing.T) {
	p, err := track.New("Lap --> <script>\nand more", []track.Call{{Bar: 1, Bars: 2, Name: "Natural <b>Turn</b>"}, {Bar: 3, Bars: 1, Name: "Whisk"}}, track.Options{Tempo: 20, Beats: 3, CountIn: 2})
	if err != nil {
		t.Fatal(err)
	}
	const want = `WEBVTT

NOTE
Lap --&gt; &lt;script&gt; and more

1
00:00:00.000 --> 00:00:03.000
Count in

2
00:00:03.000 --> 00:00:09.000
Bar 1: Natural &lt;b&gt;Turn&lt;/b&gt;

3
00:00:09.000 --> 00:00:15.000
Bar 3: Whisk
`
	if got := string(p.Captions()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// cue is a caption as it is read back.
type cue struct {
	from, to int // milliseconds
	words    string
}

// timing is a cue's times (W3C, WebVTT, 4.1: hours of two digits or more, minutes and
// seconds to 59, milliseconds of three digits).
var timing = regexp.MustCompile(`^(\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3}) --> (\d{2,}):([0-5]\d):([0-5]\d)\.(\d{3})$`)

// entity is what an ampersand may begin.
var entity = regexp.MustCompile(`^&(amp|lt|gt);`)

// readCaptions reads captions strictly by that grammar: blocks with empty lines between,
// the first of them the file's mark; in none an arrow but in a line of times, and in no
// text a tag.
func readCaptions(text string) (cues []cue, err error) {
	blocks := strings.Split(strings.TrimSuffix(text, "\n"), "\n\n")
	if blocks[0] != "WEBVTT" || strings.ContainsAny(text, "\r\x00") {
		return nil, fmt.Errorf("it begins %.20q", text)
	}
	for _, block := range blocks[1:] {
		lines := strings.Split(block, "\n")
		if lines[0] == "NOTE" && !strings.Contains(block, "-->") && len(cues) == 0 {
			continue
		}
		if len(lines) != 3 || lines[0] != strconv.Itoa(len(cues)+1) || lines[2] == "" {
			return nil, fmt.Errorf("this is no cue: %q", block)
		}
		m := timing.FindStringSubmatch(lines[1])
		if m == nil {
			return nil, fmt.Errorf("these are no times: %q", lines[1])
		}
		n := make([]int, len(m))
		for i := range m[1:] {
			n[i], _ = strconv.Atoi(m[i+1])
		}
		c := cue{((n[0]*60+n[1])*60+n[2])*1000 + n[3], ((n[4]*60+n[5])*60+n[6])*1000 + n[7], lines[2]}
		switch {
		case c.from >= c.to:
			return nil, fmt.Errorf("it ends before it begins: %q", lines[1])
		case len(cues) > 0 && c.from != cues[len(cues)-1].to:
			return nil, fmt.Errorf("it does not begin where the one before ends: %q", lines[1])
		case strings.ContainsAny(c.words, "<>"):
			return nil, fmt.Errorf("a mark: %q", c.words)
		}
		for rest := c.words; strings.Contains(rest, "&"); rest = rest[1:] {
			rest = rest[strings.Index(rest, "&"):]
			if !entity.MatchString(rest) {
				return nil, fmt.Errorf("an ampersand by itself: %q", rest)
			}
		}
		cues = append(cues, c)
	}
	return cues, nil
}

// Captions are as the standard has them, whatever the names, one after the other without
// a gap, and each a bar ahead.
func TestCaptionsAreInOrder(t *testing.T) {
	names := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"<script>alert(1)</script>", "a --> b", "&lt;", "NOTE", "STYLE", "WEBVTT", "1\n\n2",
		"\r\n\r\n00:00:00.000 --> 00:00:09.000\r\nx", "", "\x00", "-->", strings.Repeat("ß", 5000)}))
	rapid.Check(t, func(t *rapid.T) {
		var calls []track.Call
		bar := 1
		for range rapid.IntRange(1, 12).Draw(t, "figures") {
			c := track.Call{Bar: bar, Bars: rapid.IntRange(1, 4).Draw(t, "bars"), Name: names.Draw(t, "name"), NextWall: rapid.Bool().Draw(t, "corner")}
			calls = append(calls, c)
			bar += c.Bars
		}
		tempo, countIn := rapid.Float64Range(track.LeastTempo, track.MostTempo).Draw(t, "tempo"), rapid.IntRange(1, 8).Draw(t, "count-in")
		p, err := track.New(names.Draw(t, "title"), calls, track.Options{Tempo: tempo, Beats: 3, CountIn: countIn})
		if err != nil {
			t.Fatal(err)
		}
		cues, err := readCaptions(string(p.Captions()))
		if err != nil {
			t.Fatal(err)
		}
		if countIn > 1 { // before the first call
			if cues[0].words != "Count in" || cues[0].from != 0 {
				t.Fatalf("it begins %+v", cues[0])
			}
			cues = cues[1:]
		}
		if len(cues) != len(calls) {
			t.Fatalf("%d cues for %d figures", len(cues), len(calls))
		}
		for i, c := range calls {
			// A bar takes 60 s / tempo; bar 1 comes after those counted in.
			if want := float64(countIn+c.Bar-2) * 60000 / tempo; float64(cues[i].from) > want+1 || float64(cues[i].from) < want-1 {
				t.Fatalf("bar %d is called at %d ms, want %g", c.Bar, cues[i].from, want)
			}
		}
	})
}

// The captions as webvtt reads and writes them (of Debian's package python3-webvtt): the
// same times and words.
func TestCaptionsAreReadBack(t *testing.T) {
	webvtt, ok := outside.Program(t, "webvtt")
	if !ok {
		return
	}
	var calls []track.Call
	for i := range 160 {
		calls = append(calls, track.Call{Bar: i + 1, Bars: 1, Name: []string{"Whisk", "a --> b", "<script>", "Chassé" + strings.Repeat(" long", 200)}[i%4]})
	}
	p, err := track.New("a --> b", calls, track.Options{Tempo: 10, Beats: 3, CountIn: 2})
	if err != nil {
		t.Fatal(err)
	}
	cues, err := readCaptions(string(p.Captions()))
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	file := filepath.Join(folder, "track.vtt")
	if err := os.WriteFile(file, p.Captions(), 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(webvtt, "segment", file, "--target-duration=7200", "--output="+folder).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	data, err := os.ReadFile(filepath.Join(folder, "fileSequence0.webvtt"))
	if err != nil {
		t.Fatal(err)
	}
	back := strings.Split(strings.TrimSpace(string(data)), "\n\n")[1:]
	if len(back) != 161 || len(cues) != 161 {
		t.Fatalf("%d cues are read back of %d, want 161", len(back), len(cues))
	}
	for i, block := range back {
		times, words, _ := strings.Cut(block, "\n")
		m := timing.FindStringSubmatch(times)
		if m == nil || words != cues[i].words {
			t.Fatalf("cue %d is read back as %q", i+1, block)
		}
		// 6 s a bar.
		want := fmt.Sprintf("%02d:%02d:%02d.000", i*6/3600, i*6/60%60, i*6%60)
		if !strings.HasPrefix(times, want+" --> ") {
			t.Fatalf("cue %d begins %s, want %s", i+1, times, want)
		}
	}
}
