package main

import (
	"errors"
	"fmt"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/track"
	"lapwright/cmd/internal/wholefile"
	"lapwright/cmd/internal/wording"
)

// trackCommand makes a practice track.
type trackCommand struct {
	File           string `arg:"" name:"file" help:"The routine's file."`
	MIDI           string `name:"midi" group:"Files:" placeholder:"FILE.mid" help:"Write a MIDI file: a click on each beat, the figures as lyrics a bar ahead."`
	WAV            string `name:"wav" group:"Files:" placeholder:"FILE.wav" help:"Write a sound file with the clicks."`
	Captions       string `group:"Files:" placeholder:"FILE.vtt" help:"Write captions (WebVTT) that call each figure a bar ahead."`
	Force          bool   `group:"Files:" help:"Write over files that are there already."`
	Tempo          string `group:"Track:" placeholder:"N" help:"Bars a minute, 10 to 60 (that of the routine, or 29; for the waltz 28 to 30 are published)."`
	CountIn        string `group:"Track:" placeholder:"N" help:"Bars that are counted before the first figure, 1 to 8 (2)."`
	Music          bool   `group:"Track:" help:"A plain waltz accompaniment under the clicks."`
	Speak          bool   `group:"Track:" help:"The figures are called in the sound file, by a speech program if one is installed."`
	Room           string `placeholder:"NAME|FILE" help:"Dance it in this room instead of the one that the file names."`
	repertoryFlags `embed:"" set:"level_help=Allow only figures of this level: social, bronze, silver or gold, several with commas between (all)."`
}

// usualCountIn is how many bars are counted in.
const usualCountIn = 2

// files are what is to be written, before any work is done.
func (c *trackCommand) files() error {
	if c.MIDI == "" && c.WAV == "" && c.Captions == "" {
		return errors.New("say what the track is to be: --midi FILE.mid, --wav FILE.wav or --captions FILE.vtt, or several of them")
	}
	if c.Speak && c.WAV == "" {
		return errors.New("--speak calls the figures in a sound file: name it with --wav")
	}
	return outputs{"track", c.Force, append(c.repertoryFlags.files(), c.File, c.Room), []string{c.MIDI, c.WAV, c.Captions}}.ready()
}

// Run makes the track.
func (c *trackCommand) Run(s *session) error {
	if err := c.files(); err != nil {
		return err
	}
	options := track.Options{CountIn: usualCountIn, Music: c.Music}
	if c.CountIn != "" {
		var err error
		if options.CountIn, err = whole("count-in", c.CountIn, "bars", 1, 8); err != nil {
			return err
		}
	}
	read := checkCommand{File: c.File, Room: c.Room, repertoryFlags: c.repertoryFlags}
	read.Tempo = c.Tempo
	class, err := c.repertoryFlags.classOf()
	if err != nil {
		return err
	}
	r, err := read.check(s.ctx, class)
	if err != nil {
		return err
	}
	s.notes(r.repertory)
	if words := tempoWarning(r.file.Tempo); words != "" {
		fmt.Fprintln(s.errors, "lapwright: note:", words)
	}
	options.Tempo, options.Beats = r.file.Tempo, 3
	var calls []track.Call
	for i := range r.report.Rows {
		row := &r.report.Rows[i]
		options.Beats = row.Variant.Figure.Beats
		name, way := wording.Call(row.Variant)
		if way != "" {
			name += " (" + way + ")"
		}
		calls = append(calls, track.Call{Bar: row.Bar, Bars: row.Variant.Bars(), Name: name, NextWall: row.NextWall})
	}
	plan, err := track.New(r.title(), calls, options)
	if err != nil {
		return err
	}
	a := answer.Track{File: c.File, Title: r.title(), Tempo: answer.Number(options.Tempo), CountIn: options.CountIn, Bars: plan.Bars,
		Seconds: answer.Number(plan.Seconds()), Spoken: false, Faults: answer.NewFaults(r.report), Written: []string{}}
	var files []wholefile.File
	if c.MIDI != "" {
		files = append(files, wholefile.File{Path: c.MIDI, Data: plan.MIDI()})
	}
	if c.WAV != "" {
		var voices []track.Voice
		if c.Speak {
			if voices, err = s.spoken(plan); err != nil {
				return err
			}
			a.Spoken = voices != nil
		}
		files = append(files, wholefile.File{Path: c.WAV, Data: track.WAV(plan.Sound(voices))})
	}
	if c.Captions != "" {
		files = append(files, wholefile.File{Path: c.Captions, Data: plan.Captions()})
	}
	if a.Written, err = writeTogether(s.ctx, c.Force, files); err != nil {
		return err
	}
	if s.json {
		err = answer.Write(s.out, a)
	} else {
		s.track(&a, options.Music)
	}
	if err == nil && len(a.Faults) > 0 {
		return errNo
	}
	return err
}

// spoken are the calls of a plan; nil, with a note, where no speech program is installed.
func (s *session) spoken(plan *track.Plan) ([]track.Voice, error) {
	speaker, err := track.FindSpeaker()
	if errors.Is(err, track.ErrNoSpeech) {
		fmt.Fprintln(s.errors, "lapwright: note: no speech program is installed (espeak-ng or espeak), so the figures are not called; the captions and the MIDI file have them")
		return nil, nil
	}
	return plan.Speak(s.ctx, speaker)
}

// track prints what was made.
func (s *session) track(a *answer.Track, music bool) {
	fmt.Fprintf(s.out, "%s\n", s.paint.bold("Practice track: "+a.Title))
	with := "clicks"
	if music {
		with += " and accompaniment"
	}
	if a.Spoken {
		with += ", figures called a bar ahead"
	}
	printFacts(s.out, []fact{{"Tempo", fmt.Sprintf("%g bars a minute", float64(a.Tempo))},
		{"Time", fmt.Sprintf("%s, %s with %d counted in", wording.Clock(float64(a.Seconds)), wording.Many(a.Bars, "bar"), a.CountIn)}, {"With", with}})
	if len(a.Faults) > 0 {
		fmt.Fprintf(s.out, "\n%s: the track calls the routine as it is written. lapwright check %s tells them all; the first:\n  %s: %s\n", s.paint.warn(wording.Many(len(a.Faults), "fault")), a.File, faultPlace(a.Faults[0]), a.Faults[0].Words)
	}
	for _, path := range a.Written {
		fmt.Fprintf(s.out, "\nWritten: %s", path)
	}
	fmt.Fprintf(s.out, "\n\n%s", cautions)
}
