package track_test

import (
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"lapwright/cmd/internal/track"
)

// heard is a sound file's samples; it knows nothing of bars.
type heard []byte

// hear takes the samples from a sound file as its head says that they lie there.
func hear(t *testing.T, wav []byte) heard {
	t.Helper()
	if string(wav[36:40]) != "data" || int(binary.LittleEndian.Uint32(wav[40:])) != len(wav)-44 {
		t.Fatalf("the sound file begins %q", wav[:44])
	}
	if rate := binary.LittleEndian.Uint32(wav[24:]); rate != track.Rate {
		t.Fatalf("it has %d samples a second", rate)
	}
	return wav[44:]
}

// sample is a sample from -32768 to 32767.
func (h heard) sample(i int) int64 { return int64(int16(binary.LittleEndian.Uint16(h[2*i:]))) }

// loudest is the loudest sample of some.
func (h heard) loudest(from, to int) (most int64) {
	for i := from; i < min(to, len(h)/2); i++ {
		most = max(most, h.sample(i), -h.sample(i))
	}
	return most
}

// onsets finds where sound begins, in samples: where the energy of half a millisecond
// is more than that of a sample of a thirtieth of the loudest, and jumps.
func (h heard) onsets() (all []int) {
	const window, least = 22, 1000 * 1000
	quiet, energy := 0.0, int64(0)
	last := -track.Rate
	for i := range window {
		energy += h.sample(i) * h.sample(i)
	}
	for i := 0; i+window < len(h)/2; i++ {
		now := float64(energy) / window
		if now > least && now > 8*quiet && i-last > track.Rate/20 {
			// The sound begins within the window: where it first leaves the noise.
			k := i
			for k < i+window && max(h.sample(k), -h.sample(k)) < 500 {
				k++
			}
			all = append(all, k)
			last = i
		}
		quiet = quiet*0.995 + now*0.005
		energy += h.sample(i+window)*h.sample(i+window) - h.sample(i)*h.sample(i)
	}
	return all
}

// The clicks are heard where the bars have them, to a millisecond, at the end of an hour
// as at its beginning, and the one is louder than the others.
func TestNoDrift(t *testing.T) {
	for _, c := range []struct {
		tempo   float64
		minutes int
	}{{29, 3}, {28.3, longTrack}, {20, 3}, {60.7, 3}, {10, 16}} {
		t.Run(fmt.Sprintf("%g bars a minute", c.tempo), func(t *testing.T) {
			bars := int(c.tempo * float64(c.minutes)) // with one that is counted in
			var calls []track.Call
			for bar := 1; bar < bars; bar++ {
				calls = append(calls, track.Call{Bar: bar, Bars: 1, Name: "Box"})
			}
			p, err := track.New("Long", calls, track.Options{Tempo: c.tempo, Beats: 3, CountIn: 1})
			if err != nil {
				t.Fatal(err)
			}
			h := hear(t, track.WAV(p.Sound(nil)))
			all := h.onsets()
			if len(all) != bars*3 {
				t.Fatalf("%d clicks are heard, want %d", len(all), bars*3)
			}
			farthest := 0.0
			for beat, at := range all {
				want := float64(beat) * 60 / (c.tempo * 3)
				off := float64(at)/track.Rate - want
				if farthest = max(farthest, math.Abs(off)); farthest > 0.001 {
					t.Fatalf("click %d is heard at %.5f s, want %.5f", beat, want+off, want)
				}
				loud, next := h.loudest(at, at+track.Rate/20), h.loudest(all[(beat/3)*3+1], all[(beat/3)*3+1]+track.Rate/20)
				if beat%3 == 0 && float64(loud) < 1.2*float64(next) {
					t.Fatalf("click %d is the one of its bar, and as loud as the next: %d, %d", beat, loud, next)
				}
			}
			t.Logf("%d clicks, none off by more than %.3f ms", len(all), 1000*farthest)
		})
	}
}

// What sounds at the end fades out: nothing is cut off, whatever is played.
func TestEnd(t *testing.T) {
	voice := make([]float32, 100*track.Rate) // speaks on and on
	for i := range voice {
		voice[i] = float32(math.Sin(float64(i) / 20))
	}
	for _, tempo := range []float64{10, 29, 60, track.MostTempo} {
		for _, voices := range [][]track.Voice{nil, {{Beat: 3, Samples: voice}}} {
			h := hear(t, track.WAV(plan(t, tempo, true).Sound(voices)))
			n := len(h) / 2
			if last := h.loudest(n-4, n); last > 120 { // of 32768
				t.Errorf("%g bars a minute, %d voices: the last samples are as loud as %d", tempo, len(voices), last)
			}
			// It grows softer in 20 ms, not at once.
			if before := h.loudest(n-track.Rate/10, n-track.Rate/20); len(voices) > 0 && before < 3000 {
				t.Errorf("%g bars a minute: shortly before its end the voice is as loud as %d", tempo, before)
			}
		}
	}
}

// A voice that has more to say than there is time for stops where the next one begins.
func TestVoicesInTurn(t *testing.T) {
	long := make([]float32, 30*track.Rate)
	for i := range long {
		long[i] = 0.9
	}
	p := plan(t, 29, false)
	short := make([]float32, track.Rate/10)
	first, both := p.Sound([]track.Voice{{Beat: 3, Samples: long}}), p.Sound([]track.Voice{{Beat: 3, Samples: long}, {Beat: 9, Samples: short}})
	next := p.Sample(9)
	mean := func(samples []float32, from, to int) (sum float64) {
		for _, x := range samples[from:to] {
			sum += float64(x)
		}
		return sum / float64(to-from)
	}
	// The voice is the only sound whose mean is not 0.
	if got := mean(first, next+track.Rate/2, next+track.Rate); got < 0.3 {
		t.Errorf("by itself it is heard on as %g", got)
	}
	if got := mean(both, next+track.Rate/2, next+track.Rate); math.Abs(got) > 0.01 {
		t.Errorf("after the next has begun it is still heard as %g", got)
	}
	if got := mean(both, next-track.Rate/2, next-track.Rate/20); got < 0.3 {
		t.Errorf("before the next begins it is heard as %g", got)
	}
}
