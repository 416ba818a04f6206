package track

import (
	"cmp"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// ErrNoSpeech tells that no speech program is installed.
var ErrNoSpeech = errors.New("no speech program is installed")

// speakers are the speech programs that are looked for, in this order; each writes a
// sound file of 16 bits, and takes its speed in words a minute.
var speakers = []string{"espeak-ng", "espeak"}

// FindSpeaker finds a speech program; the error is [ErrNoSpeech] where there is none.
func FindSpeaker() (path string, err error) {
	for _, name := range speakers {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", ErrNoSpeech
}

// The speeds at which a call is spoken, in words a minute: the slowest at which it is
// over before its figure begins is taken.
var speeds = []int{150, 185, 230, 290}

// Speak has the calls spoken by a speech program, each a bar before its figure begins.
// Names are given to the program as text on its input, never as part of a command. The
// error says what went wrong, or is that of ctx.
func (p *Plan) Speak(ctx context.Context, speaker string) ([]Voice, error) {
	folder, err := os.MkdirTemp("", "calls-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "call.wav")
	said := map[string][]float32{}
	var voices []Voice
	room := p.Sample(p.Beats) // samples of a bar
	for _, c := range p.Calls {
		words := c.words()
		if _, known := said[words]; !known {
			for _, speed := range speeds {
				samples, err := speakOnce(ctx, speaker, words, speed, file)
				if err != nil {
					return nil, err
				}
				if said[words] = samples; len(samples) <= room {
					break
				}
			}
		}
		voices = append(voices, Voice{Beat: p.called(c), Samples: said[words]})
	}
	return voices, nil
}

// patience is how long a call may take to be spoken: it takes a moment.
var patience = 20 * time.Second

// speakOnce has some words spoken.
func speakOnce(ctx context.Context, speaker, words string, speed int, file string) ([]float32, error) {
	os.Remove(file) // of the call before
	own, stop := context.WithTimeout(ctx, patience)
	defer stop()
	command := exec.CommandContext(own, speaker, "-s", strconv.Itoa(speed), "-w", file, "--stdin")
	command.Stdin = strings.NewReader(words)
	command.WaitDelay = time.Second // for what it may have started itself
	out, err := command.CombinedOutput()
	switch name := filepath.Base(speaker); {
	case err == nil:
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case own.Err() != nil:
		return nil, fmt.Errorf("the speech program %s takes too long to say %s; leave out --speak", name, short(words))
	default:
		return nil, fmt.Errorf("the speech program %s cannot say %s: %s; leave out --speak", name, short(words), short(cmp.Or(strings.Join(strings.Fields(string(out)), " "), err.Error())))
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, fmt.Errorf("the speech program %s wrote nothing for %s; leave out --speak", filepath.Base(speaker), short(words))
	}
	samples, err := readWAV(data)
	if err != nil {
		return nil, fmt.Errorf("what the speech program %s wrote cannot be read: %w; leave out --speak", filepath.Base(speaker), err)
	}
	return samples, nil
}

// short is a piece of text as a message shows it: in quotes, and not too long.
func short(words string) string {
	const most = 80
	if letters := []rune(words); len(letters) > most {
		words = string(letters[:most]) + "…"
	}
	return strconv.Quote(words)
}

// readWAV reads a sound file of 16 bits and brings it to one channel at [Rate].
func readWAV(data []byte) ([]float32, error) {
	if len(data) < 12 || string(data[:4]) != "RIFF" || string(data[8:12]) != "WAVE" {
		return nil, errors.New("it is no sound file")
	}
	channels, rate := 0, 0
	for at := 12; at+8 <= len(data); {
		name := string(data[at : at+4])
		size := int(binary.LittleEndian.Uint32(data[at+4:]))
		body := data[at+8:]
		if size > len(body) {
			size = len(body) // programs that write to a pipe do not know how long it gets
		}
		body = body[:size]
		switch name {
		case "fmt ":
			if size < 16 || binary.LittleEndian.Uint16(body) != 1 || binary.LittleEndian.Uint16(body[14:]) != 16 {
				return nil, errors.New("its samples are not plain and of 16 bits")
			}
			channels, rate = int(binary.LittleEndian.Uint16(body[2:])), int(binary.LittleEndian.Uint32(body[4:]))
		case "data":
			if channels < 1 || rate < 1000 || rate > 400000 {
				return nil, errors.New("it does not say how its samples are played")
			}
			return resample(body, channels, rate), nil
		}
		at += 8 + size + size%2
	}
	return nil, errors.New("it holds no sound")
}

// resample brings samples to one channel at [Rate], with straight lines between them.
func resample(body []byte, channels, rate int) []float32 {
	frames := len(body) / (2 * channels)
	if frames == 0 {
		return nil
	}
	frame := func(i int) float64 {
		i = min(i, frames-1)
		return float64(int16(binary.LittleEndian.Uint16(body[2*channels*i:]))) / 32768
	}
	out := make([]float32, frames*Rate/rate)
	for i := range out {
		at := float64(i) * float64(rate) / Rate
		k := int(at)
		out[i] = float32(frame(k) + (frame(k+1)-frame(k))*(at-float64(k)))
	}
	return out
}
