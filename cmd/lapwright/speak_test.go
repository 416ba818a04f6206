package main

import (
	"path/filepath"
	"strings"
	"testing"

	"lapwright/cmd/internal/outside"
)

// TestSpeak calls the figures in a sound file, with a speech program and without: where
// there is none it says so, and the file has the clicks.
func TestSpeak(t *testing.T) {
	const routine = "../../testdata/routines/tuesday-class.yaml"
	folder := t.TempDir()
	if _, ok := outside.Program(t, "espeak-ng"); ok {
		out, errs, code := call(t, "track", routine, "--wav", filepath.Join(folder, "spoken.wav"), "--speak")
		if code != exitFine || errs != "" || !strings.Contains(out, "With   clicks, figures called a bar ahead\n") {
			t.Errorf("exit code %d: %s%s", code, errs, out)
		}
	}
	t.Setenv("PATH", t.TempDir())
	const note = "lapwright: note: no speech program is installed (espeak-ng or espeak), so the figures are not called; the captions and the MIDI file have them\n"
	out, errs, code := call(t, "track", routine, "--wav", filepath.Join(folder, "unspoken.wav"), "--speak", "--json")
	if code != exitFine || errs != note || !strings.Contains(out, `"spoken": false`) || !strings.Contains(out, "unspoken.wav") {
		t.Errorf("exit code %d: %s%s", code, errs, out)
	}
}
