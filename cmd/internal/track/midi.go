package track

import (
	"encoding/binary"
	"slices"
)

// ticks is how many ticks a beat has.
const ticks = 480

// The notes and how hard they are struck: General MIDI's percussion channel, claves on
// the one and a high wood block on the others (MIDI Manufacturers Association, General
// MIDI System Level 1, percussion key map).
const (
	percussion = 9 // channel 10
	claves     = 75
	woodBlock  = 76
	accent     = 118
	plain      = 84
)

// MIDI is the track as a standard MIDI file of format 1: a track with the tempo, the time
// signature and the calls as lyrics a bar ahead with a marker at each figure, and one with
// the clicks (MIDI Manufacturers Association, Standard MIDI Files 1.0). The format has
// the length of a beat in whole microseconds, so that after an hour at 30 bars a minute
// the clicks may be off by 3 ms; those of the sound are not.
func (p *Plan) MIDI() []byte {
	var head []midiEvent
	beat := whole(60e6 / (p.Tempo * float64(p.Beats))) // microseconds
	head = append(head,
		meta(0, 0x03, []byte(p.Title)),
		meta(0, 0x58, []byte{byte(p.Beats), 2, 24, 8}), // quarters
		meta(0, 0x51, []byte{byte(beat >> 16), byte(beat >> 8), byte(beat)}))
	for _, c := range p.Calls {
		head = append(head, meta(p.called(c)*ticks, 0x05, []byte(c.words()+"\r")), meta(p.begins(c)*ticks, 0x06, []byte(c.words())))
	}
	slices.SortStableFunc(head, func(a, b midiEvent) int { return a.at - b.at })
	var clicks []midiEvent
	clicks = append(clicks, meta(0, 0x03, []byte("Clicks")))
	for b := range p.Bars * p.Beats {
		note, hard := byte(woodBlock), byte(plain)
		if b%p.Beats == 0 {
			note, hard = claves, accent
		}
		clicks = append(clicks, midiEvent{b * ticks, []byte{0x90 | percussion, note, hard}},
			midiEvent{b*ticks + ticks/4, []byte{0x80 | percussion, note, 0}})
	}
	tracks := [][]midiEvent{head, clicks}
	if p.Music {
		tracks = append(tracks, p.notes())
	}
	out := []byte("MThd")
	out = binary.BigEndian.AppendUint32(out, 6)
	out = binary.BigEndian.AppendUint16(out, 1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(tracks)))
	out = binary.BigEndian.AppendUint16(out, ticks)
	for _, events := range tracks {
		body := p.body(events)
		out = append(out, "MTrk"...)
		out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
		out = append(out, body...)
	}
	return out
}

// midiEvent is an event at a tick.
type midiEvent struct {
	at   int
	data []byte
}

// meta is an event that does not sound.
func meta(at int, kind byte, data []byte) midiEvent {
	return midiEvent{at, append(append([]byte{0xff, kind}, vary(len(data))...), data...)}
}

// body is the events of a track, each with the time since the one before, and its end at
// the end of the last bar.
func (p *Plan) body(events []midiEvent) (out []byte) {
	at := 0
	for _, e := range append(events, meta(p.Bars*p.Beats*ticks, 0x2f, nil)) {
		out = append(append(out, vary(e.at-at)...), e.data...)
		at = e.at
	}
	return out
}

// vary is a number of variable length: seven bits a byte, the highest first.
func vary(n int) []byte {
	out := []byte{byte(n & 0x7f)}
	for n >>= 7; n > 0; n >>= 7 {
		out = append(out, byte(n&0x7f)|0x80)
	}
	slices.Reverse(out)
	return out
}

// notes are the accompaniment on a piano (General MIDI program 1), on channel 1.
func (p *Plan) notes() []midiEvent {
	events := []midiEvent{meta(0, 0x03, []byte("Accompaniment")), {0, []byte{0xc0, 0}}}
	for b := range p.Bars * p.Beats {
		for _, key := range p.keys(b) {
			events = append(events, midiEvent{b * ticks, []byte{0x90, byte(key), 70}}, midiEvent{b*ticks + ticks*9/10, []byte{0x80, byte(key), 0}})
		}
	}
	slices.SortStableFunc(events, func(a, b midiEvent) int { return a.at - b.at })
	return events
}

// harmony is four bars of chords, again and again: the root in the bass, then the notes
// of the chord, as MIDI keys. C major, A minor, F major and G with its seventh.
var harmony = [][]int{{48, 60, 64, 67}, {45, 60, 64, 69}, {41, 60, 65, 69}, {43, 59, 62, 65}}

// keys are what the accompaniment plays on a beat; nothing while the bars are counted in.
func (p *Plan) keys(beat int) []int {
	bar := beat/p.Beats - p.CountIn
	switch chord := harmony[max(0, bar)%len(harmony)]; {
	case bar < 0:
		return nil
	case beat%p.Beats == 0:
		return chord[:1]
	default:
		return chord[1:]
	}
}
