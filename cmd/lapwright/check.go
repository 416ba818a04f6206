package main

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/routinefile"
	"lapwright/cmd/internal/wording"
	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/floors"
	"lapwright/search/check"
)

// checkCommand checks a routine.
type checkCommand struct {
	File           string `arg:"" name:"file" help:"The routine's file."`
	Room           string `placeholder:"NAME|FILE" help:"Dance it in this room instead of the one that the file names."`
	Lap            bool   `help:"Ask that it comes round the room to where it began, once or as often as --laps says; so does the file with lap: yes or laps: N."`
	repertoryFlags `embed:"" set:"level_help=Allow only figures of this level: social, bronze, silver or gold, several with commas between (all)."`
	limitFlags     `embed:""`
	floorFlags     `embed:""`
	repairFlags    `embed:""`
	Difficulty     bool   `help:"Show how hard each figure and each join is, and what makes it so."`
	SVG            string `name:"svg" group:"Files:" placeholder:"FILE" help:"Draw the room from above with both dancers' footprints."`
	Force          bool   `group:"Files:" help:"Write over a file that is there already."`
}

// checked is a routine that was checked.
type checked struct {
	repertory *repertory
	file      *routinefile.File
	room      chosenRoom
	limits    limits
	ask       check.Limits
	report    *check.Report
	answer    answer.Checked
}

// Run checks the routine.
func (c *checkCommand) Run(s *session) error {
	output := outputFlags{SVG: c.SVG, Force: c.Force}
	if err := output.ready(); err != nil {
		return err
	}
	if err := output.spare("routine", append(c.repertoryFlags.files(), c.File, c.Room)...); err != nil {
		return err
	}
	q, err := c.readyToRepair()
	if err != nil {
		return err
	}
	r, err := c.check(s.ctx, nil)
	if err != nil {
		return err
	}
	s.notes(r.repertory)
	if words := tempoWarning(r.file.Tempo); words != "" {
		fmt.Fprintln(s.errors, "lapwright: note:", words)
	}
	if err := c.repair(s, q, r); err != nil {
		return err
	}
	mended, err := q.write(c, s, r)
	if err != nil {
		return err
	}
	written, err := output.write(s.ctx, r.file, r.report, drawingLine(r.heading(), r.answer.Routine.Totals))
	if err != nil {
		return err
	}
	if s.json {
		err = answer.Write(s.out, r.answer)
	} else {
		err = s.checked(r, c.Difficulty, append(mended, written...))
	}
	if err == nil && !r.answer.Clean {
		err = errNo
	}
	return err
}

// check reads the routine and dances it. Where its file names no room, it is danced in
// that of the class; nil stands for the class of the flags, if there is one.
func (c *checkCommand) check(ctx context.Context, class *chosenClass) (*checked, error) {
	repertory, err := c.repertoryFlags.choose("all")
	if err != nil {
		return nil, err
	}
	if class == nil {
		class = repertory.class
	}
	r := &checked{repertory: repertory}
	if r.file, err = c.read(repertory.library, class, &r.room); err != nil {
		return nil, err
	}
	if r.limits, err = c.limitFlags.choose(repertory, r.room.Room, r.file.Laps); err != nil {
		return nil, err
	}
	if c.Stride != "" {
		if r.file.Stride, err = stride(c.Stride); err != nil {
			return nil, err
		}
	}
	if c.Margin != "" {
		if r.file.Margin, err = margin(c.Margin); err != nil {
			return nil, err
		}
	}
	if c.Tempo != "" {
		if r.file.Tempo, err = tempo(c.Tempo); err != nil {
			return nil, err
		}
	}
	if r.file.Tempo == 0 {
		r.file.Tempo = defaultTempo
	}
	ask := check.Limits{Lap: c.Lap || c.Laps != "" || r.file.Lap, Margin: r.file.Margin, Library: repertory.variants, Follows: repertory.library.Follows()}
	r.limits.put(&ask)
	if !repertory.any {
		ask.Allowed = repertory.has
	}
	r.ask = ask
	r.report = check.Dance(r.room.Room, figures.DefaultCouple(), &r.file.Routine, ask)
	r.answer = answer.NewChecked(r.report, &r.file.Routine)
	r.answer.File, r.answer.Room, r.answer.Margin = c.File, r.room.name, answer.Number(r.file.Margin)
	r.answer.Class = repertory.class.answer()
	if r.file.Margin < 0 {
		r.answer.Margin = answer.Number(r.room.Margin)
	}
	return r, ctx.Err()
}

// read reads the routine; the room is that of the flag, or else the file's own, or else
// the class's.
func (c *checkCommand) read(library *figures.Library, class *chosenClass, room *chosenRoom) (*routinefile.File, error) {
	data, err := readFile(c.File)
	if err != nil {
		return nil, err
	}
	return routinefile.Read(c.File, data, library, func(name string) (*floors.Room, error) {
		var err error
		switch {
		case c.Room != "":
			*room, err = findRoom(c.Room)
		case name == "":
			*room, err = class.room("")
		default:
			*room, err = findRoomBeside(c.File, name, "routine")
		}
		return room.Room, err
	})
}

// findRoomBeside finds a room by the name that a file gives, a routine's or a class's
// as what says; a room's file lies relative to it.
func findRoomBeside(file, name, what string) (chosenRoom, error) {
	if _, ok := floors.Named(name); !ok && name != "" && !filepath.IsAbs(name) {
		beside := filepath.Join(filepath.Dir(file), filepath.FromSlash(name))
		if !looksLikeFile(name) && !looksLikeFile(beside) {
			return findRoom(name) // which says what rooms there are
		}
		room, err := findRoom(beside)
		// A file that is not there is that file's fault.
		var inside *document.Error
		if err != nil && !errors.As(err, &inside) {
			return room, fmt.Errorf("the room %q is looked for beside the %s: %w", name, what, err)
		}
		return room, err
	}
	return findRoom(name)
}

// heading is what the routine is, in a few words.
func (r *checked) heading() string {
	if r.repertory.class != nil {
		return fmt.Sprintf("%s, %s, stride %g m", r.file.Dance, r.repertory.words(), r.file.Stride)
	}
	return fmt.Sprintf("%s, stride %g m", r.file.Dance, r.file.Stride)
}

// title is what the routine is called.
func (r *checked) title() string {
	if r.file.Name != "" {
		return r.file.Name
	}
	name := filepath.Base(r.answer.File)
	return strings.TrimSuffix(name, filepath.Ext(name))
}

// checked prints a routine that was checked.
func (s *session) checked(r *checked, hard bool, written []string) error {
	a := &r.answer
	head := r.title()
	if !strings.Contains(head, r.room.Room.Name) {
		head += " in " + r.room.Room.Name
	}
	fmt.Fprintf(s.out, "%s (%s)\n%s\n", s.paint.bold(head), r.heading(), r.limits.line(r.room.Room))
	if err := printFigures(s.out, r.room.Room, &a.Routine, kinds(a.Faults)); err != nil {
		return err
	}
	fmt.Fprintln(s.out)
	printFacts(s.out, append(append(totals(a.Routine.Totals), closing(a.Routine.Totals)), awkwardJoins(&a.Routine)...))
	if hard {
		if err := s.difficulties(&a.Routine); err != nil {
			return err
		}
	}
	fmt.Fprintln(s.out)
	if a.Clean {
		fmt.Fprintln(s.out, s.paint.bold("No faults."))
	} else {
		s.faults(a.Faults)
		if err := s.repairs(a.Repair); err != nil {
			return err
		}
	}
	for _, path := range written {
		fmt.Fprintf(s.out, "\nWritten: %s\n", path)
	}
	return nil
}

// kinds names the kinds of faults of each figure.
func kinds(faults []answer.Fault) map[int]string {
	list := map[int][]string{}
	for _, f := range faults {
		if f.Number > 0 && !slices.Contains(list[f.Number], f.Kind) {
			list[f.Number] = append(list[f.Number], f.Kind)
		}
	}
	all := map[int]string{}
	for n, names := range list {
		all[n] = strings.Join(names, ", ")
	}
	return all
}

// closing tells whether the routine is a lap.
func closing(t answer.Totals) fact {
	if t.Closes && t.Laps > 1 {
		return fact{"Laps", fmt.Sprintf("%d: it ends as it began, %.2f m from there", t.Laps, float64(t.Gap))}
	}
	if t.Closes {
		return fact{"Lap", fmt.Sprintf("yes: it ends as it began, %.2f m from there", float64(t.Gap))}
	}
	return fact{"Lap", fmt.Sprintf("no: it takes %s and ends %.2f m from where it began", wording.Many(t.Corners, "corner"), float64(t.Gap))}
}

// faults prints faults where they happen, with how the couple stands there and
// what could go there.
func (s *session) faults(faults []answer.Fault) {
	fmt.Fprintf(s.out, "%s\n", s.paint.bold(wording.Many(len(faults), "fault")+":"))
	for i, f := range faults {
		first := i == 0 || faults[i-1].Number != f.Number
		if first {
			fmt.Fprintf(s.out, "\n%s\n", faultPlace(f))
		}
		fmt.Fprintf(s.out, "  %s: %s\n", s.paint.warn(f.Kind), f.Words)
		if last := i+1 == len(faults) || faults[i+1].Number != f.Number; !last || f.Number == 0 {
			continue
		}
		// A fault may leave the couple otherwise than it was: how it came there is
		// what the first fault of the figure says.
		for i > 0 && faults[i-1].Number == f.Number {
			i--
		}
		came := faults[i]
		fmt.Fprintf(s.out, "  The couple stands %s, %s free, %s.\n", came.Stance.Alignment, came.Stance.FreeFoot, wording.Hold(came.Stance.Hold))
		if len(came.CouldGo) > 0 {
			fmt.Fprintf(s.out, "%s\n", wrapped("  Could go there: ", came.CouldGo))
		} else {
			fmt.Fprintln(s.out, "  Nothing that may be used can go there.")
		}
	}
}

// faultPlace says where in the routine a fault is.
func faultPlace(f answer.Fault) string {
	if f.Number == 0 {
		return "The whole routine"
	}
	where := fmt.Sprintf("Bar %d, %s", f.Bar, f.Figure)
	if f.Line > 0 {
		where += fmt.Sprintf(", line %d", f.Line)
	}
	return where
}

// wrapped writes a list after its head in lines of at most 100 letters.
func wrapped(head string, items []string) string {
	const widest = 100
	var b strings.Builder
	b.WriteString(head)
	at := len(head)
	for i, item := range items {
		if i+1 < len(items) {
			item += ","
		} else {
			item += "."
		}
		n := len([]rune(item)) + 1
		if i > 0 && at+n > widest {
			b.WriteString("\n" + strings.Repeat(" ", len(head)))
			at = len(head)
		} else if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(item)
		at += n
	}
	return b.String()
}
