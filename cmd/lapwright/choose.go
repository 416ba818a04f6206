package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"lapwright/cmd/internal/answer"
	"lapwright/cmd/internal/classfile"
	"lapwright/figures"
	"lapwright/figures/document"
	"lapwright/floors"
)

// defaultRoom is the room where none is named.
const defaultRoom = "village hall"

// readFile reads a small file that somebody names.
func readFile(path string) ([]byte, error) {
	if !mayRead(path) {
		return nil, fmt.Errorf("%s: only files that are given may be read here", path)
	}
	f, err := openFile(path)
	if err == nil {
		defer f.Close()
		var info os.FileInfo
		if info, err = f.Stat(); err == nil && info.IsDir() {
			return nil, fmt.Errorf("%s: this is a folder, not a file", path)
		}
	}
	if err == nil {
		var data []byte
		// One byte more than is allowed, so that a larger file is seen to be.
		if data, err = io.ReadAll(io.LimitReader(f, document.MaxBytes+1)); err == nil {
			return data, nil
		}
	}
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%s: there is no such file", path)
	}
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return nil, fmt.Errorf("%s: it cannot be read: %w", path, err)
}

// chosenRoom is a room and where it came from.
type chosenRoom struct {
	*floors.Room
	name answer.RoomName
	key  string // as a routine's file names it, for a room that comes with the program
}

// findRoom finds a room by name, or reads it from its file.
func findRoom(name string) (chosenRoom, error) {
	if name == "" {
		name = defaultRoom
	}
	if room, ok := floors.Named(name); ok {
		return chosenRoom{room, answer.RoomName{Name: room.Name}, name}, nil
	}
	if !looksLikeFile(name) {
		perhaps := ""
		if near := figures.NearestNames(name, floors.Names(), 1); len(near) > 0 {
			perhaps = fmt.Sprintf("; did you mean %s?", near[0])
		}
		return chosenRoom{}, fmt.Errorf("there is no room %q: the rooms are %s; a room of your own is named by its file, such as hall.yaml%s",
			name, strings.Join(floors.Names(), ", "), perhaps)
	}
	data, err := readFile(name)
	if err != nil {
		return chosenRoom{}, err
	}
	room, err := floors.Load(name, data)
	if err != nil {
		return chosenRoom{}, err
	}
	return chosenRoom{Room: room, name: answer.RoomName{Name: room.Name, File: name}}, nil
}

// looksLikeFile tells a file from a name that is not known.
func looksLikeFile(name string) bool {
	if !mayRead(name) {
		return true // and reading it says why not
	}
	if strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml") {
		return true
	}
	_, err := os.Stat(name)
	return err == nil
}

// nameIn is how a routine's file in a folder names the room.
func (r chosenRoom) nameIn(folder string) string {
	if r.name.File == "" {
		return r.key
	}
	path := r.name.File
	if !filepath.IsAbs(path) {
		if here, err := filepath.Abs(folder); err == nil {
			if room, err := filepath.Abs(path); err == nil {
				if near, err := filepath.Rel(here, room); err == nil {
					path = near
				}
			}
		}
	}
	if _, taken := floors.Named(path); taken || !looksLikeFile(path) {
		path = "." + string(filepath.Separator) + path
	}
	return filepath.ToSlash(path)
}

// repertoryFlags say which figures a couple dances.
type repertoryFlags struct {
	Dance       string `group:"Figures:" placeholder:"DANCE" help:"The dance (waltz)."`
	classFlags  `embed:""`
	Level       string   `group:"Figures:" placeholder:"LEVEL" help:"${level_help}"`
	Style       string   `group:"Figures:" placeholder:"STYLE" help:"Only the levels of this style: international, american, country or all (bronze, silver and gold are of the international style, social is of all)."`
	Known       []string `group:"Figures:" placeholder:"\"A,B\"" help:"Only these figures, whatever their level."`
	Without     []string `group:"Figures:" placeholder:"\"A,B\"" help:"None of these figures."`
	Library     []string `group:"Figures:" placeholder:"FILE" sep:"none" help:"A file with more figures, which may take the place of some that come with the program; can be given more than once."`
	OnlyLibrary bool     `group:"Figures:" help:"Leave out the figures that come with the program."`
}

// files are the files that say which figures they are.
func (f *repertoryFlags) files() []string { return append([]string{f.Class}, f.Library...) }

// repertory is what a couple may dance.
type repertory struct {
	library  *figures.Library
	dance    string
	wanted   wanted
	variants []*figures.Variant
	known    []string
	without  []string
	any      bool         // nothing was asked for: every figure of the dance
	replaced []string     // notes on figures that took the place of others
	class    *chosenClass // which has been taught the known figures; nil: none
}

// words are what the figures are, in a few words.
func (r *repertory) words() string {
	switch {
	case r.class != nil:
		return "figures of " + r.class.String()
	case len(r.known) > 0:
		return "known figures"
	}
	return "figures of " + r.wanted.String()
}

// choose finds the figures. Without a level or known figures, those of the
// usual level are chosen; "all" stands for every one.
func (f repertoryFlags) choose(usual string) (*repertory, error) {
	library, replaced, err := f.library()
	if err != nil {
		return nil, err
	}
	r := &repertory{library: library, replaced: replaced, known: []string{}, without: []string{}}
	if r.class, err = f.classFlags.choose(library); err != nil {
		return nil, err
	}
	dance := f.Dance
	switch {
	case dance == "" && r.class != nil:
		dance = r.class.Dance
	case dance == "":
		dance = usualDance
	}
	if r.dance, err = r.findDance(dance); err != nil {
		return nil, err
	}
	if r.class != nil {
		return r, f.taught(r)
	}
	for _, flag := range []struct{ name, words string }{{"level", f.Level}, {"style", f.Style}} {
		if flag.words != "" && len(f.Known) > 0 {
			return nil, fmt.Errorf("--known and --%s contradict each other: give one of them", flag.name)
		}
	}
	if len(f.Known) == 0 {
		if r.wanted, err = newWanted(f.Level, f.Style, usual); err != nil {
			return nil, err
		}
	}
	known, err := r.named("known", f.Known)
	if err != nil {
		return nil, err
	}
	without, err := r.named("without", f.Without)
	if err != nil {
		return nil, err
	}
	r.known, r.without = f.names(f.Known), f.names(f.Without)
	r.any = len(known) == 0 && len(without) == 0 && r.wanted.all()
	for _, v := range library.Variants() {
		switch {
		case v.Figure.Dance != r.dance || slices.Contains(without, v):
		case len(known) > 0 && !slices.Contains(known, v):
		case len(known) == 0 && !r.wanted.has(v.Figure):
		default:
			r.variants = append(r.variants, v)
		}
	}
	if len(r.variants) == 0 {
		return nil, r.empty()
	}
	return r, nil
}

// classOf reads the class by itself; it is nil where none is named.
func (f repertoryFlags) classOf() (*chosenClass, error) {
	library, _, err := f.library()
	if err != nil {
		return nil, err
	}
	return f.classFlags.choose(library)
}

// usualDance is the dance where none is named.
const usualDance = "waltz"

// taught finds the figures that the class has been taught.
func (f repertoryFlags) taught(r *repertory) error {
	switch {
	case len(f.Known) > 0:
		return errors.New("--class and --known contradict each other: give one of them")
	case f.Level != "":
		return errors.New("--class and --level contradict each other: the class knows what it has been taught; give one of them")
	case r.dance != r.class.Dance:
		return fmt.Errorf("--dance %s and the class contradict each other: it dances %s", r.dance, r.class.Dance)
	}
	var err error
	if r.wanted, err = newWanted("", f.Style, "all"); err != nil {
		return err
	}
	if f.Style == "" && r.class.Style != figures.AnyStyle {
		r.wanted.style, r.wanted.asked = r.class.Style, true
	}
	without, err := r.named("without", f.Without)
	if err != nil {
		return err
	}
	known, names := r.class.known()
	r.known, r.without = names, f.names(f.Without)
	for _, v := range r.library.Variants() {
		if slices.Contains(known, v) && !slices.Contains(without, v) {
			r.variants = append(r.variants, v)
		}
	}
	if len(r.variants) == 0 {
		return r.empty()
	}
	return nil
}

// empty says why no figure is left.
func (r *repertory) empty() error {
	has := func(f *figures.Figure) bool { return f.Dance == r.dance && r.wanted.has(f) }
	switch {
	case len(r.known) == 0 && !slices.ContainsFunc(r.library.Figures(), has):
		return r.wanted.nothing(r.library, r.dance)
	case len(r.without) > 0:
		return errors.New("no figures are left to dance: --without takes away all of them")
	}
	return fmt.Errorf("the library has no figures to dance for %s", r.dance)
}

// library is the built-in figures, unless they are left out, with those of the
// user's files on top, in the order in which the files are given, and notes on
// the figures that took the place of others.
func (f repertoryFlags) library() (library *figures.Library, replaced []string, err error) {
	library = figures.BuiltIn()
	if f.OnlyLibrary {
		if len(f.Library) == 0 {
			return nil, nil, errors.New("--only-library leaves no figures; name a file of figures with --library")
		}
		library = figures.Empty()
	}
	for _, file := range f.Library {
		data, err := readFile(file)
		if err != nil {
			return nil, nil, err
		}
		before := library
		if library, err = library.Extend(file, data, figures.DefaultCouple()); err != nil {
			return nil, nil, err
		}
		replaced = append(replaced, replacements(before, library, file)...)
	}
	return library, replaced, nil
}

// names are the names as they were given, never nil.
func (repertoryFlags) names(given []string) []string {
	all := []string{}
	for _, n := range given {
		all = append(all, strings.TrimSpace(n))
	}
	return all
}

// findDance finds a dance of which the library has figures.
func (r *repertory) findDance(name string) (string, error) {
	var dances []string
	for _, f := range r.library.Figures() {
		if strings.EqualFold(f.Dance, strings.TrimSpace(name)) {
			return f.Dance, nil
		}
		if !slices.Contains(dances, f.Dance) {
			dances = append(dances, f.Dance)
		}
	}
	return "", fmt.Errorf("the library has no figures for the dance %q; it has %s", name, strings.Join(dances, ", "))
}

// named finds all ways of dancing the figures that a flag names; a way of
// dancing in brackets stands for itself only.
func (r *repertory) named(flag string, names []string) ([]*figures.Variant, error) {
	var all []*figures.Variant
	for _, name := range names {
		name = strings.TrimSpace(name)
		if name == "" {
			return nil, fmt.Errorf("--%s names no figure: write names with commas between", flag)
		}
		ways, err := r.library.Ways(name)
		if err != nil {
			return nil, fmt.Errorf("--%s: %w", flag, err)
		}
		all = append(all, ways...)
	}
	return all, nil
}

// has tells whether a way of dancing may be used.
func (r *repertory) has(v *figures.Variant) bool { return slices.Contains(r.variants, v) }

// allowed tells whether some way of dancing a figure may be used.
func (r *repertory) allowed(f *figures.Figure) bool {
	return slices.ContainsFunc(r.variants, func(v *figures.Variant) bool { return v.Figure == f })
}

// reasonAgainst says why a figure may not be danced.
func (r *repertory) reasonAgainst(f *figures.Figure) string {
	switch {
	case f.Dance != r.dance:
		return fmt.Sprintf("it belongs to the %s", f.Dance)
	case r.class != nil && !slices.ContainsFunc(r.class.Known(r.class.week), func(t classfile.Taught) bool { return t.Variants[0].Figure == f }):
		return r.class.notTaught(f)
	case r.class == nil && len(r.known) > 0 && !slices.ContainsFunc(r.known, func(n string) bool { g, ok := r.library.Figure(n); return ok && g == f }):
		return "--known does not name it"
	case len(r.known) == 0 && !r.wanted.has(f):
		return fmt.Sprintf("it is not in the repertory of %s", r.wanted)
	}
	return "--without takes it away"
}

// floorFlags say how the couple dances on the floor.
type floorFlags struct {
	Stride string `group:"Floor:" placeholder:"STRIDE" help:"How far the couple travels in a step: usual (0.65 m), social (0.55), crowded (0.45) or metres."`
	Margin string `group:"Floor:" placeholder:"METRES" help:"Floor to be kept free between the couple and walls or obstacles (the room's own)."`
	Tempo  string `group:"Floor:" placeholder:"N" help:"Bars a minute (29; for the waltz 28 to 30 are published)."`
}

// defaultTempo is the middle of the published range, in bars a minute.
const defaultTempo = 29.0
