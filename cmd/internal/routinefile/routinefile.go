// Package routinefile reads and writes the file of a routine.
//
// What lives here: the shape of that file. What does not: the file of a room
// (package floors), and whether a routine can be danced (search/check).
//
// # The file of a routine
//
//	name: Evening lap
//	dance: waltz
//	room: village hall   # a room's name, or its file, relative to this file
//	stride: 0.65         # metres, or usual, social or crowded
//	tempo: 29            # bars a minute
//	margin: 0.1          # metres kept free; the room's own where left out
//	lap: yes             # it is to end where it began; laps: 3 after three times round
//	made by: lapwright lap --level bronze   # the command, where a program wrote it
//	start: {at: [3, 1.5], wall: 1, facing: DW, free foot: RF, hold: closed}
//	figures:
//	  - Natural Turn
//	  - {figure: Reverse Turn (1-3), scale: 0.9, wall: next}
//
// Only the figures are needed; the file may also be nothing but their list. What
// is left out of the start is that of the first figure's usual beginning, at the
// place where a lap of the room begins. A figure is danced at its scale, a share
// of the stride; wall says whether the next wall's line of dance is taken before
// it (next) or not (same), and is left out where the figure itself tells.
//
// A first use:
//
//	f, err := routinefile.Read("evening.yaml", data, library, findRoom)
//	data := routinefile.Format(f)
package routinefile

import (
	"errors"
	"strconv"
	"strings"

	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/figures/geometry"
	"lapwright/floors"
	"lapwright/search"
	"lapwright/search/routine"
)

// MostFigures is the greatest number of figures in a file.
const MostFigures = search.MostBars * search.MostLaps

// Bounds of what a file may say of a figure's scale.
const (
	LeastScale = 0.5
	MostScale  = 1.5
)

// File is a routine with what its file says besides.
type File struct {
	routine.Routine
	// Floor is the room that the routine's room names.
	Floor *floors.Room
	// Margin is the floor in metres kept free between the couple and walls or
	// obstacles; negative means the room's own.
	Margin float64
	// Lap tells that the routine is to end where it began, after so many times
	// round the room as Laps says; 0 is once.
	Lap  bool
	Laps int
	// Made is the command that made the routine; empty for one that people wrote.
	Made string
}

// FindRoom finds a room by what a routine's file says: a name or a file. It is
// asked for "" when the file names none.
type FindRoom func(name string) (*floors.Room, error)

// Read reads a routine from the text of its file; file is the name to use in
// errors. Every error is a [*document.Error], or several joined, save one that
// comes from findRoom for a file without a room.
func Read(file string, data []byte, library *figures.Library, findRoom FindRoom) (*File, error) {
	doc, err := document.Parse(file, data)
	if err != nil {
		return nil, err
	}
	r := reader{library: library, file: &File{Margin: -1}}
	r.file.Dance, r.file.Stride = "waltz", figures.UsualStride
	if items, err := doc.Items(); err == nil {
		if r.file.Floor, err = findRoom(""); err != nil {
			return nil, err
		}
		r.figures(doc, items)
		r.start(nil)
		return r.done()
	}
	top, err := doc.Fields("name", "dance", "room", "stride", "tempo", "margin", "lap", "laps", "made by", "start", "figures")
	if err != nil {
		return nil, err
	}
	r.head(top)
	list, err := top.Need("figures")
	if err != nil {
		return nil, errors.Join(append(r.faults, err)...)
	}
	items, err := list.Items()
	if err != nil {
		return nil, errors.Join(append(r.faults, err)...)
	}
	r.figures(list, items)
	if err := r.room(top.Get("room"), findRoom); err != nil {
		return nil, errors.Join(append(r.faults, err)...)
	}
	if len(r.faults) == 0 {
		r.start(top.Get("start"))
	}
	return r.done()
}

// reader gathers a file and its faults.
type reader struct {
	library *figures.Library
	file    *File
	faults  []error
}

// done is what was read, or the faults.
func (r *reader) done() (*File, error) {
	if len(r.faults) > 0 {
		return nil, errors.Join(r.faults...)
	}
	return r.file, nil
}

// note keeps a fault, and reports whether there was none.
func (r *reader) note(err error) bool {
	if err != nil {
		r.faults = append(r.faults, err)
	}
	return err == nil
}

// head reads what is said about the routine as a whole.
func (r *reader) head(top *document.Fields) {
	text := func(name string, to *string) {
		if v := top.Get(name); v != nil {
			s, err := v.Text()
			if r.note(err) {
				*to = s
			}
		}
	}
	number := func(name string, least, most float64, to *float64) {
		if v := top.Get(name); v != nil {
			x, err := v.Number(least, most)
			if r.note(err) {
				*to = x
			}
		}
	}
	text("name", &r.file.Name)
	text("dance", &r.file.Dance)
	text("made by", &r.file.Made)
	r.dance(top.Get("dance"))
	if v := top.Get("stride"); v != nil {
		r.stride(v)
	}
	number("tempo", routine.LeastTempo, routine.MostTempo, &r.file.Tempo)
	number("margin", 0, floors.MaxMargin, &r.file.Margin)
	if v := top.Get("lap"); v != nil {
		var err error
		r.file.Lap, err = v.YesNo()
		r.note(err)
	}
	if v := top.Get("laps"); v != nil {
		r.laps(v, top.Get("lap") != nil && !r.file.Lap)
	}
}

// laps reads how many times round the routine goes; none tells that the file says
// that it is no lap.
func (r *reader) laps(at *document.Node, none bool) {
	n, err := at.Whole(1, search.MostLaps)
	if err == nil && none {
		err = at.Fail("%d laps and \"lap: no\" contradict each other; leave one of them out", n)
	}
	if !r.note(err) {
		return
	}
	if r.file.Lap = true; n > 1 {
		r.file.Laps = n
	}
}

// dance refuses a dance of which the library has no figures.
func (r *reader) dance(at *document.Node) {
	if at == nil {
		return
	}
	for _, f := range r.library.Figures() {
		if strings.EqualFold(f.Dance, r.file.Dance) {
			r.file.Dance = f.Dance
			return
		}
	}
	r.note(at.Fail("the library has no figures for %q", r.file.Dance))
}

// stride reads a stride: a word or metres.
func (r *reader) stride(at *document.Node) {
	words, err := at.Text()
	if !r.note(err) {
		return
	}
	metres, err := figures.ParseStride(words)
	if err != nil {
		err = at.Fail("%v", err)
	}
	if r.note(err) {
		r.file.Stride = metres
	}
}

// room finds the room; at is nil when the file names none.
func (r *reader) room(at *document.Node, findRoom FindRoom) (err error) {
	name := ""
	if at != nil {
		if name, err = at.Text(); err != nil {
			return err
		}
	}
	r.file.Room = name
	r.file.Floor, err = findRoom(name)
	var inRoom *document.Error
	if err != nil && at != nil && !errors.As(err, &inRoom) {
		return at.Fail("%v", err)
	}
	return err
}

// figures reads the list of figures.
func (r *reader) figures(list *document.Node, items []*document.Node) {
	if len(items) == 0 || len(items) > MostFigures {
		r.note(list.Fail("%d figures are given; a routine has from 1 to %d", len(items), MostFigures))
		return
	}
	for _, it := range items {
		r.figure(it)
	}
}

// figure reads one figure: its name, or fields.
func (r *reader) figure(at *document.Node) {
	step := routine.Step{Scale: 1, Line: at.Line()}
	name := at
	if _, err := at.Text(); err != nil {
		f, err := at.Fields("figure", "scale", "wall")
		if !r.note(err) {
			return
		}
		if name, err = f.Need("figure"); !r.note(err) {
			return
		}
		if v := f.Get("scale"); v != nil {
			step.Scale, err = v.Number(LeastScale, MostScale)
			r.note(err)
		}
		if v := f.Get("wall"); v != nil {
			step.Corner, err = corner(v)
			r.note(err)
		}
	}
	words, err := name.Text()
	if !r.note(err) {
		return
	}
	variant, err := r.library.Find(words)
	if err != nil {
		r.note(name.Fail("%v", err))
		return
	}
	step.Variant = variant
	r.file.Steps = append(r.file.Steps, step)
}

// corner reads whether the next wall is taken.
func corner(at *document.Node) (routine.Corner, error) {
	words, err := at.Text()
	if err != nil {
		return routine.Unsaid, err
	}
	switch strings.ToLower(words) {
	case "next":
		return routine.Take, nil
	case "same":
		return routine.Stay, nil
	}
	return routine.Unsaid, at.Fail("%q is not known here: write next (the next wall's line of dance is taken) or same", words)
}

// start reads where the routine starts; at is nil when the file does not say.
func (r *reader) start(at *document.Node) {
	if len(r.file.Steps) == 0 || r.file.Floor == nil {
		return
	}
	r.file.Start = routine.Start{Stance: r.file.Steps[0].Variant.Entries[0]}
	start := &r.file.Start
	if at != nil {
		f, err := at.Fields("at", "wall", "facing", "free foot", "hold")
		if !r.note(err) {
			return
		}
		r.startStance(f, &start.Stance)
		if v := f.Get("at"); v != nil {
			start.At = r.place(v)
		}
		if v := f.Get("wall"); v != nil {
			n, err := v.Whole(1, len(r.file.Floor.Walls))
			if err != nil {
				err = v.Fail("%s has walls 1 to %d, counted along the line of dance; write the number of one", r.file.Floor.Name, len(r.file.Floor.Walls))
			}
			if r.note(err) {
				start.Wall = n - 1
			}
		} else if start.At != nil {
			start.Wall, _ = r.file.Floor.LineOfDance(*start.At)
		}
	}
	if start.At == nil && len(r.faults) == 0 {
		start.At = search.DefaultStart(r.file.Floor, start.Wall).At
	}
}

// startStance reads the stance of the start.
func (r *reader) startStance(f *document.Fields, s *figures.Stance) {
	read := func(name string, parse func(string) error) {
		if v := f.Get(name); v != nil {
			words, err := v.Text()
			if r.note(err) {
				if err := parse(words); err != nil {
					r.note(v.Fail("%v", err))
				}
			}
		}
	}
	read("facing", func(words string) error {
		a, err := figures.ParseAlignment(words)
		s.Facing = a.Front()
		return err
	})
	read("free foot", func(words string) (err error) {
		s.Free, err = figures.ParseFoot(words)
		if err == nil && s.Free == figures.NoFoot {
			err = errors.New("one foot must be free: write LF or RF")
		}
		return err
	})
	read("hold", func(words string) (err error) {
		s.Hold, err = figures.ParseHold(words)
		return err
	})
}

// place reads a place in the room.
func (r *reader) place(at *document.Node) *geometry.Point {
	xy, err := at.Items()
	if err == nil && len(xy) != 2 {
		err = at.Fail("two numbers are expected, metres along and across the room as in its file, not %d", len(xy))
	}
	if !r.note(err) {
		return nil
	}
	var p geometry.Point
	if p.X, err = xy[0].Number(-floors.MaxReach, floors.MaxReach); !r.note(err) {
		return nil
	}
	if p.Y, err = xy[1].Number(-floors.MaxReach, floors.MaxReach); !r.note(err) {
		return nil
	}
	return &p
}

// number writes a number as short as it can be.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
