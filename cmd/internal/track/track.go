// Package track turns a routine into sound to practise to: clicks on the beats with the
// figures called a bar ahead, as a MIDI file, as sound, and as captions.
//
// What lives here: when what sounds and is called ([Plan]), and the three files. What
// does not: how the routine is found or danced (search), files on disk (wholefile), and
// paper (sheet).
//
//	plan, err := track.New(title, calls, track.Options{Tempo: 29, Beats: 3, CountIn: 2})
//	data := plan.MIDI()
package track

import (
	"errors"
	"fmt"
	"math"
)

// Call is a figure of the routine.
type Call struct {
	Bar  int // in which it begins, from 1
	Bars int // that it takes
	Name string
	// NextWall tells that the next wall's line of dance is taken before it.
	NextWall bool
}

// Options say how a routine is played.
type Options struct {
	// Tempo is in bars a minute, from [LeastTempo] to [MostTempo].
	Tempo float64
	// Beats is how many beats a bar has: three in the waltz.
	Beats int
	// CountIn is how many bars are counted before the first figure, from 1 to 8: the
	// figure is called a bar ahead.
	CountIn int
	// Music adds a plain accompaniment: the bass on one, chords on the other beats.
	Music bool
}

// The tempi at which a routine can be played, in bars a minute: from a count that is
// walked through to well beyond any waltz.
const (
	LeastTempo = 5.0
	MostTempo  = 120.0
)

// MostMinutes is how long a track may be.
const MostMinutes = 60

// Plan is a routine in time.
type Plan struct {
	Title string
	Options
	Calls []Call
	// Bars is how many bars there are, with those that are counted in.
	Bars int
}

// New plans a track. The calls are those of a routine, in order. An error says what cannot be played.
func New(title string, calls []Call, o Options) (*Plan, error) {
	p := &Plan{Title: title, Options: o, Calls: calls, Bars: o.CountIn}
	switch {
	case len(calls) == 0:
		return nil, errors.New("the routine has no figures to call")
	case !(o.Tempo >= LeastTempo && o.Tempo <= MostTempo):
		return nil, fmt.Errorf("a track is played at %g to %g bars a minute, not at %g", LeastTempo, MostTempo, o.Tempo)
	case o.Beats < 1 || o.Beats > 12:
		return nil, fmt.Errorf("a bar of %d beats cannot be counted: 1 to 12 can", o.Beats)
	case o.CountIn < 1 || o.CountIn > 8:
		return nil, fmt.Errorf("%d bars cannot be counted in: 1 to 8 can", o.CountIn)
	}
	for _, c := range calls {
		p.Bars = max(p.Bars, o.CountIn+c.Bar-1+c.Bars)
	}
	if minutes := float64(p.Bars) / o.Tempo; minutes > MostMinutes {
		return nil, fmt.Errorf("the track would take %.0f minutes; %d are the most", math.Ceil(minutes), MostMinutes)
	}
	return p, nil
}

// Seconds is how long the track takes, to the end of its last bar.
func (p *Plan) Seconds() float64 { return p.Second(p.Bars * p.Beats) }

// Second is when a beat sounds, in seconds from the beginning; beats are numbered from 0,
// those that are counted in with them. It is computed for each beat anew, so that nothing
// adds up.
func (p *Plan) Second(beat int) float64 { return 60 * float64(beat) / (p.Tempo * float64(p.Beats)) }

// begins is the beat at which a call's figure begins.
func (p *Plan) begins(c Call) int { return (p.CountIn + c.Bar - 1) * p.Beats }

// called is the beat at which a figure is called: a bar before it begins.
func (p *Plan) called(c Call) int { return p.begins(c) - p.Beats }

// words are a call in words.
func (c Call) words() string {
	if c.NextWall {
		return "Corner: " + c.Name
	}
	return c.Name
}

// whole is a number rounded to the nearest whole one.
func whole(x float64) int { return int(math.Floor(x + 0.5)) }
