package track

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"lapwright/cmd/internal/outside"
)

// spokenPlan is a plan with some names, a figure of two bars each.
func spokenPlan(t *testing.T, names ...string) *Plan {
	t.Helper()
	var calls []Call
	for i, name := range names {
		calls = append(calls, Call{Bar: 2*i + 1, Bars: 2, Name: name})
	}
	p, err := New("Spoken", calls, Options{Tempo: 29, Beats: 3, CountIn: 2})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Calls are spoken by espeak-ng: each is heard, begins a bar before its figure, and the
// usual ones are over when it begins. Names are never taken for anything else.
func TestSpeak(t *testing.T) {
	speaker, ok := outside.Program(t, "espeak-ng")
	if !ok {
		return
	}
	t.Chdir(t.TempDir())
	names := []string{"Natural Turn", "Progressive Chassé to Right", "Natural Turn", "--version", "-f /etc/passwd", "<script>alert(1)</script>", "$(touch x); `touch x`", "Łódź ß 東京"}
	p := spokenPlan(t, names...)
	voices, err := p.Speak(t.Context(), speaker)
	if err != nil {
		t.Fatal(err)
	}
	if len(voices) != len(names) {
		t.Fatalf("%d calls are spoken, want %d", len(voices), len(names))
	}
	for i, v := range voices {
		// Two bars counted in, figures of two bars: the first is called with bar 2.
		if want := 3 + 6*i; v.Beat != want {
			t.Errorf("%s is called on beat %d, want %d", names[i], v.Beat, want)
		}
		sum := 0.0
		for _, x := range v.Samples {
			sum += float64(x * x)
		}
		loud, seconds := math.Sqrt(sum/float64(len(v.Samples))), float64(len(v.Samples))/Rate
		if !(loud > 0.01) || seconds < 0.2 {
			t.Errorf("%s: %.1f s as loud as %g", names[i], seconds, loud)
		}
		if bar := 60.0 / 29; i < 3 && seconds > bar {
			t.Errorf("%s takes %.2f s, and a bar %.2f", names[i], seconds, bar)
		}
	}
	if left, err := os.ReadDir("."); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// program is a speech program that does what a script says.
func program(t *testing.T, script string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("LEFT OUT: it needs a shell")
	}
	path := filepath.Join(t.TempDir(), "espeak")
	if err := os.WriteFile(path, []byte("#!/bin/sh\n"+script+"\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	return path
}

// Speech programs that fail are told of in one line.
func TestSpeakFails(t *testing.T) {
	defer func(usual time.Duration) { patience = usual }(patience)
	patience = 2 * time.Second
	for name, c := range map[string]struct{ script, want string }{
		"fails":          {"echo no voice; echo 'of that name' >&2; exit 1", `the speech program espeak cannot say "Whisk": "no voice of that name"; leave out --speak`},
		"fails silently": {"exit 3", `the speech program espeak cannot say "Whisk": "exit status 3"; leave out --speak`},
		"writes nothing": {"exit 0", `the speech program espeak wrote nothing for "Whisk"; leave out --speak`},
		"writes text":    {`echo hello >"$4"`, "what the speech program espeak wrote cannot be read: it is no sound file; leave out --speak"},
		"never ends":     {"exec sleep 60", `the speech program espeak takes too long to say "Whisk"; leave out --speak`},
		"leaves another": {"sleep 60 & wait", `the speech program espeak takes too long to say "Whisk"; leave out --speak`},
	} {
		t.Run(name, func(t *testing.T) {
			began := time.Now()
			_, err := spokenPlan(t, "Whisk").Speak(t.Context(), program(t, c.script))
			if err == nil || err.Error() != c.want {
				t.Errorf("%v, want %s", err, c.want)
			}
			if took := time.Since(began); took > 20*time.Second {
				t.Errorf("it takes %v", took)
			}
		})
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := spokenPlan(t, "Whisk").Speak(ctx, program(t, "exit 0")); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	long := spokenPlan(t, strings.Repeat("Whisk ", 1000))
	if _, err := long.Speak(t.Context(), program(t, "exit 1")); err == nil || len(err.Error()) > 300 {
		t.Errorf("a long name: %.400v", err)
	}
}

// A name that takes too long to say is tried faster, and each name only once.
func TestSpeakOnce(t *testing.T) {
	sound := filepath.Join(t.TempDir(), "sound.wav")
	if err := os.WriteFile(sound, WAV(make([]float32, 10*Rate)), 0o644); err != nil {
		t.Fatal(err)
	}
	log := filepath.Join(t.TempDir(), "log")
	if _, err := spokenPlan(t, "Whisk", "Whisk", "Whisk").Speak(t.Context(), program(t, `echo $2 >>"`+log+`"; cp "`+sound+`" "$4"`)); err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(log); err != nil || string(data) != "150\n185\n230\n290\n" {
		t.Errorf("spoken with %q words a minute, %v", data, err)
	}
}

func TestFindSpeaker(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	if path, err := FindSpeaker(); !errors.Is(err, ErrNoSpeech) {
		t.Errorf("where there is none: %s, %v", path, err)
	}
	own := program(t, "exit 0")
	t.Setenv("PATH", filepath.Dir(own))
	if path, err := FindSpeaker(); err != nil || path != own {
		t.Errorf("found %s, %v; want %s", path, err, own)
	}
}

// A sound of 1000 Hz in two channels and of another rate is the same sound after.
func TestReadWAV(t *testing.T) {
	for _, rate := range []int{8000, 22050, 44100, 48000} {
		wav := WAV(make([]float32, 2*rate)) // a second in two channels
		binary.LittleEndian.PutUint16(wav[22:], 2)
		binary.LittleEndian.PutUint32(wav[24:], uint32(rate))
		for i := range rate {
			x := int16(10000 * math.Sin(2*math.Pi*1000*float64(i)/float64(rate)))
			binary.LittleEndian.PutUint16(wav[44+4*i:], uint16(x))
		}
		samples, err := readWAV(wav)
		if err != nil || len(samples) != Rate {
			t.Fatalf("%d samples a second: %d samples, %v", rate, len(samples), err)
		}
		rises := 0
		for i := range samples[1:] {
			if samples[i] < 0 && samples[i+1] >= 0 {
				rises++
			}
		}
		if rises < 998 || rises > 1001 {
			t.Errorf("%d samples a second: %d waves in a second", rate, rises)
		}
	}
}

// Whatever a speech program writes is read or refused.
func FuzzReadWAV(f *testing.F) {
	f.Add(WAV(make([]float32, 10)))
	f.Add(WAV(nil))
	f.Add([]byte("RIFF\xff\xff\xff\xffWAVEdata\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, data []byte) {
		samples, err := readWAV(data)
		if err != nil && samples != nil {
			t.Error("both samples and an error")
		}
		for _, x := range samples {
			if !(x >= -1 && x <= 1) {
				t.Fatalf("a sample of %g", x)
			}
		}
	})
}
