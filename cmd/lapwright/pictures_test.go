package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"lapwright/cmd/internal/golden"
	"lapwright/cmd/internal/outside"
)

// pictures are those of README.md: pages of the sheets that its commands make.
var pictures = []struct {
	name, file, page string
}{
	{"sheet-1.png", "evening-lap.pdf", "1"},
	{"sheet-2.png", "evening-lap.pdf", "2"},
	{"sheet-3.png", "evening-lap.pdf", "4"},
	{"cards.png", "cards.pdf", "1"},
}

// TestPictures: the pictures of README.md are what the program makes today, as another
// program shows its pages (pdftoppm of Poppler). Releases of that draw edges a little
// differently, so that a few dots may differ.
func TestPictures(t *testing.T) {
	program, ok := outside.Program(t, "pdftoppm")
	if !ok {
		return
	}
	folder, err := filepath.Abs(filepath.Join("..", "..", "testdata", "pictures"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	for _, args := range [][]string{
		{"lap", "--out", "evening-lap.yaml"},
		{"sheet", "evening-lap.yaml", "--pdf", "evening-lap.pdf"},
		{"drill", "--cards", "6", "--level", "bronze", "--pdf", "cards.pdf"},
	} {
		if _, errs, code := call(t, args...); code != exitFine {
			t.Fatalf("%s: %s", args, errs)
		}
	}
	for _, p := range pictures {
		data, err := exec.Command(program, "-r", "60", "-png", "-f", p.page, "-l", p.page, "-singlefile", p.file).Output()
		if err != nil {
			t.Fatalf("%s: %v", p.name, err)
		}
		path := filepath.Join(folder, p.name)
		if *golden.Update {
			if err := os.WriteFile(path, data, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if share := differing(t, data, want); share > 0.01 {
			t.Errorf("%s is not what is made today: %.1f %% of it differs (go test -update keeps the new one)", p.name, 100*share)
		}
	}
}

// differing is the share of dots in which two pictures differ clearly.
func differing(t *testing.T, a, b []byte) float64 {
	t.Helper()
	var both [2]image.Image
	for i, data := range [][]byte{a, b} {
		var err error
		if both[i], err = png.Decode(bytes.NewReader(data)); err != nil {
			t.Fatal(err)
		}
	}
	if both[0].Bounds() != both[1].Bounds() {
		return 1
	}
	n, box := 0, both[0].Bounds()
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			ar, ag, ab, _ := both[0].At(x, y).RGBA()
			br, bg, bb, _ := both[1].At(x, y).RGBA()
			if far(ar, br) || far(ag, bg) || far(ab, bb) {
				n++
			}
		}
	}
	return float64(n) / float64(box.Dx()*box.Dy())
}

// far tells whether two shades are clearly not the same.
func far(a, b uint32) bool { return max(a, b)-min(a, b) > 0x6000 }
