package track_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"lapwright/cmd/internal/outside"
	"lapwright/cmd/internal/track"
)

func plan(t testing.TB, tempo float64, music bool) *track.Plan {
	t.Helper()
	p, err := track.New("Evening lap", []track.Call{{Bar: 1, Bars: 2, Name: "Natural Turn"}, {Bar: 3, Bars: 1, Name: "Right Foot Closed Change"},
		{Bar: 4, Bars: 2, Name: "Reverse Turn", NextWall: true}, {Bar: 6, Bars: 1, Name: "Chassé from Promenade"}}, track.Options{Tempo: tempo, Beats: 3, CountIn: 2, Music: music})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The MIDI file as midicsv reads it (John Walker, midicsv; the format is that of the MIDI
// Manufacturers Association's Standard MIDI Files 1.0).
func TestMIDIIsReadBack(t *testing.T) {
	midicsv, ok := outside.Program(t, "midicsv")
	if !ok {
		return
	}
	for _, music := range []bool{false, true} {
		p := plan(t, 29, music)
		file := filepath.Join(t.TempDir(), "track.mid")
		if err := os.WriteFile(file, p.MIDI(), 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(midicsv, file).Output()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		r := csv.NewReader(bytes.NewReader(out))
		r.FieldsPerRecord, r.TrimLeadingSpace = -1, true
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		ticks, clicks, lyrics, markers, notes := 0, map[int]string{}, map[int]string{}, map[int]string{}, 0
		for _, row := range rows {
			at, _ := strconv.Atoi(row[1])
			switch row[2] {
			case "Header":
				ticks, _ = strconv.Atoi(row[5])
				if tracks := map[bool]string{false: "2", true: "3"}[music]; row[3] != "1" || row[4] != tracks {
					t.Errorf("header %v", row)
				}
			case "Tempo":
				// 29 bars of three beats a minute: 60 s / 87.
				if us, _ := strconv.Atoi(row[3]); us != 689655 {
					t.Errorf("a beat of %d µs, want 689655", us)
				}
			case "Time_signature":
				if row[3] != "3" || row[4] != "2" {
					t.Errorf("time signature %v, want 3/4", row)
				}
			case "Note_on_c":
				if row[3] == "9" {
					clicks[at] = row[5]
				} else {
					notes++
				}
			case "Lyric_t":
				lyrics[at] = strings.TrimSuffix(row[3], `\015`)
			case "Marker_t":
				markers[at] = row[3]
			case "End_track":
				if at != 8*3*ticks {
					t.Errorf("the track ends at tick %d, want %d", at, 8*3*ticks)
				}
			}
		}
		for beat := range 8 * 3 {
			loud := map[bool]string{true: "118", false: "84"}[beat%3 == 0]
			if clicks[beat*ticks] != loud {
				t.Errorf("beat %d is struck with %q, want %s", beat, clicks[beat*ticks], loud)
			}
		}
		if len(clicks) != 24 || len(lyrics) != 4 || len(markers) != 4 || notes > 0 != music {
			t.Errorf("%d clicks, %d lyrics, %d markers, %d notes", len(clicks), len(lyrics), len(markers), notes)
		}
		// A figure that begins in bar n is called a bar ahead, with two bars counted in.
		for bar, name := range map[int]string{1: "Natural Turn", 3: "Right Foot Closed Change", 4: "Corner: Reverse Turn"} {
			if at := bar * 3 * ticks; lyrics[at] != name || markers[at+3*ticks] != name {
				t.Errorf("bar %d: called %q, marked %q", bar, lyrics[at], markers[at+3*ticks])
			}
		}
	}
}

// Names of any kind and any tempo are read back by midicsv as they are.
func TestMIDIOfAnyName(t *testing.T) {
	midicsv, ok := outside.Program(t, "midicsv")
	if !ok {
		return
	}
	names := []string{"<script>alert(1)</script>", `"quoted", and \ more`, "two\nlines", "Łódź ß 東京", strings.Repeat("long ", 5000), "", "\x00\xff\xf7"}
	var calls []track.Call
	for i, name := range names {
		calls = append(calls, track.Call{Bar: i + 1, Bars: 1, Name: name})
	}
	for _, tempo := range []float64{track.LeastTempo, 10, 28.3, track.MostTempo} {
		p, err := track.New(names[0], calls, track.Options{Tempo: tempo, Beats: 3, CountIn: 1, Music: true})
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "track.mid")
		if err := os.WriteFile(file, p.MIDI(), 0o644); err != nil {
			t.Fatal(err)
		}
		var said bytes.Buffer
		cmd := exec.Command(midicsv, file)
		cmd.Stderr = &said
		out, err := cmd.Output()
		if err != nil || said.Len() > 0 {
			t.Fatalf("%v: %s", err, said.String())
		}
		var lyrics, markers []string
		for _, line := range strings.Split(string(out), "\n") {
			part := strings.SplitN(line, ", ", 4)
			switch {
			case len(part) < 4:
			case part[2] == "Tempo":
				if us, _ := strconv.Atoi(part[3]); math.Abs(float64(us)-20e6/tempo) > 0.5 {
					t.Errorf("%g bars a minute: a beat of %d µs", tempo, us)
				}
			case part[2] == "Lyric_t":
				lyrics = append(lyrics, strings.TrimSuffix(unescaped(part[3]), "\r"))
			case part[2] == "Marker_t":
				markers = append(markers, unescaped(part[3]))
			}
		}
		if !slices.Equal(lyrics, names) || !slices.Equal(markers, names) {
			t.Errorf("%g bars a minute: the lyrics are %.200q, the markers %.200q", tempo, lyrics, markers)
		}
	}
}

// unescaped is a text as midicsv writes it: quotes doubled, what is not plain ASCII as
// three octal digits.
func unescaped(text string) string {
	text = strings.ReplaceAll(text[1:len(text)-1], `""`, `"`)
	return regexp.MustCompile(`\\\\|\\[0-7]{3}`).ReplaceAllStringFunc(text, func(code string) string {
		if code == `\\` {
			return `\`
		}
		n, _ := strconv.ParseUint(code[1:], 8, 8)
		return string([]byte{byte(n)})
	})
}

// The sound as sox reads it: as long as the bars take, and nothing clips.
func TestWAVIsReadBack(t *testing.T) {
	sox, ok := outside.Program(t, "sox")
	if !ok {
		return
	}
	for _, music := range []bool{false, true} {
		p := plan(t, 29, music)
		file := filepath.Join(t.TempDir(), "track.wav")
		voice := make([]float32, track.Rate)
		for i := range voice {
			voice[i] = float32(math.Sin(float64(i) / 20))
		}
		if err := os.WriteFile(file, track.WAV(p.Sound([]track.Voice{{Beat: 3, Samples: voice}})), 0o644); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(sox, file, "-n", "stat").CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		stat := map[string]float64{}
		for _, line := range strings.Split(string(out), "\n") {
			name, value, _ := strings.Cut(line, ":")
			if x, err := strconv.ParseFloat(strings.TrimSpace(value), 64); err == nil {
				stat[strings.Join(strings.Fields(name), " ")] = x
			}
		}
		want := 8*60/29.0 + 0.5
		if got := stat["Length (seconds)"]; math.Abs(got-want) > 0.001 {
			t.Errorf("%g s, want %g", got, want)
		}
		if most := max(stat["Maximum amplitude"], -stat["Minimum amplitude"]); most > 0.95 || most < 0.3 {
			t.Errorf("the loudest sample is %g", most)
		}
		if info, err := exec.Command(sox, "--i", file).Output(); err != nil || !strings.Contains(string(info), "44100") || !strings.Contains(string(info), "16-bit") {
			t.Errorf("%v: %s", err, info)
		}
	}
}

func TestRefuses(t *testing.T) {
	box := []track.Call{{Bar: 1, Bars: 1, Name: "Box"}}
	for name, c := range map[string]struct {
		calls   []track.Call
		options track.Options
		want    string
	}{
		"no figures":     {nil, track.Options{Tempo: 29, Beats: 3, CountIn: 2}, "no figures to call"},
		"tempo 0":        {box, track.Options{Beats: 3, CountIn: 2}, "5 to 120 bars a minute, not at 0"},
		"tempo 10000":    {box, track.Options{Tempo: 10000, Beats: 3, CountIn: 2}, "not at 10000"},
		"tempo 4.99":     {box, track.Options{Tempo: 4.99, Beats: 3, CountIn: 2}, "not at 4.99"},
		"no end":         {box, track.Options{Tempo: math.Inf(1), Beats: 3, CountIn: 2}, "not at +Inf"},
		"no number":      {box, track.Options{Tempo: math.NaN(), Beats: 3, CountIn: 2}, "not at NaN"},
		"no beats":       {box, track.Options{Tempo: 29, CountIn: 2}, "a bar of 0 beats"},
		"no count-in":    {box, track.Options{Tempo: 29, Beats: 3}, "0 bars cannot be counted in"},
		"too long":       {[]track.Call{{Bar: 900, Bars: 1, Name: "Box"}}, track.Options{Tempo: 5, Beats: 3, CountIn: 2}, "the track would take 181 minutes; 60 are the most"},
		"a bit too long": {[]track.Call{{Bar: 600, Bars: 1, Name: "Box"}}, track.Options{Tempo: 10, Beats: 3, CountIn: 2}, "take 61 minutes"},
	} {
		if _, err := track.New("", c.calls, c.options); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// Nothing clips, whatever is played, and every beat has its sample.
func TestSoundNeverClips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := track.New("", []track.Call{{Bar: 1, Bars: rapid.IntRange(1, 4).Draw(t, "bars"), Name: "Box"}}, track.Options{
			Tempo: rapid.Float64Range(20, track.MostTempo).Draw(t, "tempo"), Beats: rapid.IntRange(1, 6).Draw(t, "beats"),
			CountIn: rapid.IntRange(1, 3).Draw(t, "count-in"), Music: rapid.Bool().Draw(t, "music")})
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range p.Sound(nil) {
			if x > 0.9 || x < -0.9 || x != x {
				t.Fatalf("sample %d is %g", i, x)
			}
		}
		for beat := range p.Bars * p.Beats {
			if off := float64(p.Sample(beat)) - p.Second(beat)*track.Rate; math.Abs(off) > 0.5+1e-6 {
				t.Fatalf("beat %d is %g samples off", beat, off)
			}
		}
	})
}

func ExampleNew() {
	p, err := track.New("Four bars", []track.Call{{Bar: 1, Bars: 2, Name: "Natural Turn"}, {Bar: 3, Bars: 2, Name: "Hesitation Change"}}, track.Options{Tempo: 29, Beats: 3, CountIn: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d bars in %.1f s\n", p.Bars, p.Seconds())
	// Output: 6 bars in 12.4 s
}

// A track of three minutes.
func BenchmarkSound(b *testing.B) {
	var calls []track.Call
	for bar := 1; bar <= 87; bar++ {
		calls = append(calls, track.Call{Bar: bar, Bars: 1, Name: "Box"})
	}
	p, err := track.New("", calls, track.Options{Tempo: 29, Beats: 3, CountIn: 2, Music: true})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		track.WAV(p.Sound(nil))
	}
}
