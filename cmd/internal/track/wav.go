package track

import (
	"encoding/binary"
	"math"
	"slices"
)

// Rate is how many samples a second the sound has.
const Rate = 44100

// Sample is the number of the sample at which a beat sounds, to the nearest.
func (p *Plan) Sample(beat int) int { return whole(p.Second(beat) * Rate) }

// tail is how many samples follow the last bar, so that it can ring.
const tail = Rate / 2

// loudest is the greatest sample, of 1: it leaves room, so that nothing clips.
const loudest = 0.89

// Sound is the track as samples from -1 to 1, in one channel. Voices are mixed in where
// they are to be heard: in the order of their beats, each with its samples at [Rate], and
// none longer than until the next one; while one speaks, everything else is softer. What
// still sounds at the end fades out.
func (p *Plan) Sound(voices []Voice) []float32 {
	out := make([]float32, p.Sample(p.Bars*p.Beats)+tail)
	high, low := click(1760, 0.05), click(1175, 0.04)
	notes := map[int][]float32{}
	for beat := range p.Bars * p.Beats {
		at := p.Sample(beat)
		for _, key := range p.music(beat) {
			if notes[key] == nil {
				notes[key] = pluck(key)
			}
			mix(out, at, notes[key], 0.16)
		}
		if beat%p.Beats == 0 {
			mix(out, at, high, 0.62)
		} else {
			mix(out, at, low, 0.42)
		}
	}
	for i, v := range voices {
		at := p.Sample(v.Beat)
		if i+1 < len(voices) {
			v.Samples = cut(v.Samples, p.Sample(voices[i+1].Beat)-at)
		}
		soften(out, at, at+len(v.Samples))
		mix(out, at, v.Samples, 0.8)
	}
	fade(out)
	most := float32(0)
	for _, x := range out {
		most = max(most, max(x, -x))
	}
	if most > loudest {
		for i := range out {
			out[i] *= loudest / most
		}
	}
	return out
}

// music are the keys of a beat where there is an accompaniment.
func (p *Plan) music(beat int) []int {
	if !p.Music {
		return nil
	}
	return p.keys(beat)
}

// Voice is something that is spoken from a beat on.
type Voice struct {
	Beat    int
	Samples []float32 // at [Rate]
}

// mix adds samples from a place on.
func mix(out []float32, at int, samples []float32, loud float32) {
	for i, x := range samples {
		if at+i >= len(out) {
			return
		}
		out[at+i] += loud * x
	}
}

// ramp is in how many samples something grows softer without a crack: 20 ms.
const ramp = Rate / 50

// cut is samples that are no more than some, with their end faded where they were more.
func cut(samples []float32, most int) []float32 {
	if len(samples) <= most {
		return samples
	}
	samples = slices.Clone(samples[:max(0, most)])
	fade(samples)
	return samples
}

// fade brings the end of samples down to nothing.
func fade(samples []float32) {
	for i := range min(ramp, len(samples)) {
		samples[len(samples)-1-i] *= float32(i) / ramp
	}
}

// soften makes what stands between two places softer, with ramps at both ends so that it
// does not crack. Onsets keep their place.
func soften(out []float32, from, to int) {
	const least = 0.45
	for i := max(0, from-ramp); i < min(len(out), to+ramp); i++ {
		gain := float32(least)
		switch {
		case i < from:
			gain += (1 - least) * float32(from-i) / ramp
		case i >= to:
			gain += (1 - least) * float32(i-to) / ramp
		}
		out[i] *= gain
	}
}

// click is a short wooden tap: a sine that begins at its loudest within half a
// millisecond, with an overtone, and dies away.
func click(hertz, seconds float64) []float32 {
	out := make([]float32, int(seconds*Rate))
	for i := range out {
		t := float64(i) / Rate
		rise := math.Min(1, t/0.0005)
		fall := math.Exp(-t*5/seconds) * math.Min(1, (seconds-t)/0.005)
		out[i] = float32(rise * fall * (0.8*math.Cos(2*math.Pi*hertz*t) + 0.2*math.Cos(2*math.Pi*2.7*hertz*t)))
	}
	return out
}

// pluck is a soft string: four overtones, the higher the sooner gone.
func pluck(key int) []float32 {
	hertz := 440 * math.Pow(2, float64(key-69)/12)
	out := make([]float32, Rate)
	for i := range out {
		t := float64(i) / Rate
		rise, end := math.Min(1, t/0.004), math.Min(1, (1-t)/0.05)
		sum := 0.0
		for n := 1.0; n <= 4; n++ {
			sum += math.Exp(-t*(2+1.5*n)) * math.Sin(2*math.Pi*n*hertz*t) / n
		}
		out[i] = float32(rise * end * sum)
	}
	return out
}

// WAV is samples as a sound file of 16 bits in one channel (Microsoft and IBM,
// Multimedia Programming Interface and Data Specifications 1.0, 1991).
func WAV(samples []float32) []byte {
	size := 2 * len(samples)
	out := make([]byte, 0, 44+size)
	out = append(out, "RIFF"...)
	out = binary.LittleEndian.AppendUint32(out, uint32(36+size))
	out = append(out, "WAVEfmt "...)
	out = binary.LittleEndian.AppendUint32(out, 16)
	out = binary.LittleEndian.AppendUint16(out, 1) // plain samples
	out = binary.LittleEndian.AppendUint16(out, 1) // one channel
	out = binary.LittleEndian.AppendUint32(out, Rate)
	out = binary.LittleEndian.AppendUint32(out, 2*Rate)
	out = binary.LittleEndian.AppendUint16(out, 2)
	out = binary.LittleEndian.AppendUint16(out, 16)
	out = append(out, "data"...)
	out = binary.LittleEndian.AppendUint32(out, uint32(size))
	for _, x := range samples {
		out = binary.LittleEndian.AppendUint16(out, uint16(int16(math.Round(float64(x)*math.MaxInt16))))
	}
	return out
}
