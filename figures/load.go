package figures

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"lapwright/figures/document"
	"lapwright/figures/geometry"
)

// Bounds of what a library file may hold.
const (
	maxFigures  = 2000
	maxVariants = 100
	maxSteps    = 64
	maxBeats    = 12
	maxStrides  = 3
)

// Load reads a library file and checks that every figure in it can be danced by
// the couple. All faults are told, each a [*document.Error] with file, line,
// figure and step, joined in one error.
func Load(file string, data []byte, c Couple) (*Library, error) {
	doc, err := document.Parse(file, data)
	if err != nil {
		return nil, err
	}
	top, err := doc.Fields("dance", "beats", "figures")
	if err != nil {
		return nil, err
	}
	l := loader{parts: map[string]*part{}}
	if l.dance, err = top.Text("dance"); err != nil {
		return nil, err
	}
	beats, err := top.Need("beats")
	if err != nil {
		return nil, err
	}
	if l.beats, err = beats.Whole(2, 4); err != nil {
		return nil, err
	}
	list, err := top.Need("figures")
	if err != nil {
		return nil, err
	}
	items, err := list.Items()
	if err != nil {
		return nil, err
	}
	if len(items) == 0 || len(items) > maxFigures {
		return nil, list.Fail("%d figures are given; a library has from 1 to %d", len(items), maxFigures)
	}
	l.read(items)
	l.assemble()
	if len(l.faults) == 0 {
		l.names()
		l.check(c)
	}
	if len(l.faults) > 0 {
		return nil, errors.Join(l.faults...)
	}
	return newLibrary(l.figures), nil
}

// loader gathers figures and faults. It reads all figures and their parts
// first, so that a variant may be made of parts of a figure further down.
type loader struct {
	dance   string
	beats   int
	figures []*Figure
	drafts  []draft
	parts   map[string]*part // by figure and part in lower case, "natural turn/first half"
	faults  []error
}

// part is a run of steps that variants are made of.
type part struct {
	facing Heading // of the leader, when the part begins and its directions hold
	steps  []stepDraft
}

// stepDraft is a step whose hold is not known yet where the file leaves it out.
type stepDraft struct {
	Step
	sameHold bool
}

// draft is a variant whose parts are not yet put together.
type draft struct {
	figure   *Figure
	at       *document.Fields
	label    string
	parts    []string
	from     []Heading
	holds    []Hold
	awkward  float64
	partsAt  *document.Node
	defaults *document.Fields
}

func (l *loader) fail(err error) { l.faults = append(l.faults, err) }

func (l *loader) read(items []*document.Node) {
	for _, it := range items {
		if err := l.readFigure(it); err != nil {
			l.fail(err)
		}
	}
}

func (l *loader) readFigure(at *document.Node) error {
	f, err := at.Fields("name", "also", "levels", "family", "note", "source", "from", "hold", "parts", "variants")
	if err != nil {
		return err
	}
	fig := &Figure{Dance: l.dance, Beats: l.beats, File: at.File(), Line: at.Line()}
	if fig.Name, err = f.Text("name"); err != nil {
		return err
	}
	if strings.ContainsAny(fig.Name, "(),/") {
		return f.Get("name").Fail("a figure's name may not hold any of ( ) , /")
	}
	if fig.Family, err = f.Text("family"); err != nil {
		return err
	}
	if v := f.Get("also"); v != nil {
		if fig.Also, err = v.Texts(); err != nil {
			return err
		}
	}
	for name, to := range map[string]*string{"note": &fig.Note, "source": &fig.Source} {
		if v := f.Get(name); v != nil {
			if *to, err = v.Text(); err != nil {
				return err
			}
		}
	}
	levels, err := f.Need("levels")
	if err != nil {
		return err
	}
	if fig.Levels, err = texts(levels, ParseLevel); err != nil {
		return err
	}
	parts, err := f.Need("parts")
	if err != nil {
		return err
	}
	if err := l.readParts(fig, parts); err != nil {
		return err
	}
	l.figures = append(l.figures, fig)
	variants := f.Get("variants")
	if variants == nil {
		return f.Fail("%s: \"variants\" is missing; add the ways of dancing the figure", fig.Name)
	}
	list, err := variants.Items()
	if err != nil {
		return err
	}
	if len(list) == 0 || len(list) > maxVariants {
		return variants.Fail("%s: %d variants are given; from 1 to %d are expected", fig.Name, len(list), maxVariants)
	}
	for _, v := range list {
		if err := l.readVariant(fig, f, v); err != nil {
			l.fail(err)
		}
	}
	return nil
}

// ParseLevel reads the name of a level.
func ParseLevel(s string) (Level, error) {
	if l := Level(strings.ToLower(s)); slices.Contains(Levels, l) {
		return l, nil
	}
	return "", fmt.Errorf("%q is not a level: write one of social, bronze, silver, gold", s)
}

// texts reads one word or a list of words with a parser.
func texts[T any](at *document.Node, parse func(string) (T, error)) ([]T, error) {
	words, err := at.Texts()
	if err != nil {
		return nil, err
	}
	if len(words) == 0 {
		return nil, at.Fail("at least one is expected here")
	}
	values := make([]T, len(words))
	for i, w := range words {
		if values[i], err = parse(w); err != nil {
			return nil, at.Fail("%v", err)
		}
	}
	return values, nil
}

func (l *loader) readVariant(fig *Figure, defaults *document.Fields, at *document.Node) error {
	f, err := at.Fields("label", "parts", "from", "hold", "awkward")
	if err != nil {
		return err
	}
	d := draft{figure: fig, at: f, defaults: defaults}
	if v := f.Get("label"); v != nil {
		if d.label, err = v.Text(); err != nil {
			return err
		}
		if strings.ContainsAny(d.label, "(),") {
			return v.Fail("a variant's label may not hold any of ( ) ,")
		}
	}
	if d.partsAt, err = f.Need("parts"); err != nil {
		return err
	}
	if d.parts, err = d.partsAt.Texts(); err != nil {
		return err
	}
	inherited := func(name string) (*document.Node, error) {
		if v := f.Get(name); v != nil {
			return v, nil
		}
		if v := defaults.Get(name); v != nil {
			return v, nil
		}
		return nil, f.Fail("%s: %q is missing; give it here or for the whole figure", fig.Name, name)
	}
	from, err := inherited("from")
	if err != nil {
		return err
	}
	alignments, err := texts(from, ParseAlignment)
	if err != nil {
		return err
	}
	for _, a := range alignments {
		d.from = append(d.from, a.Front())
	}
	hold, err := inherited("hold")
	if err != nil {
		return err
	}
	if d.holds, err = texts(hold, ParseHold); err != nil {
		return err
	}
	if v := f.Get("awkward"); v != nil {
		if d.awkward, err = v.Number(0, 100); err != nil {
			return err
		}
	}
	l.drafts = append(l.drafts, d)
	return nil
}

func partKey(figure, name string) string { return strings.ToLower(figure + "/" + name) }

func (l *loader) readParts(fig *Figure, at *document.Node) error {
	list, err := at.Items()
	if err != nil {
		return err
	}
	for _, it := range list {
		f, err := it.Fields("part", "facing", "steps")
		if err != nil {
			return err
		}
		name, err := f.Text("part")
		if err != nil {
			return err
		}
		key := partKey(fig.Name, name)
		if l.parts[key] != nil {
			return it.Fail("%s has two parts with the name %q; name them differently", fig.Name, name)
		}
		facing, err := f.Need("facing")
		if err != nil {
			return err
		}
		aligned, err := texts(facing, ParseAlignment)
		if err != nil {
			return err
		}
		p := &part{facing: aligned[0].Front()}
		steps, err := f.Need("steps")
		if err != nil {
			return err
		}
		items, err := steps.Items()
		if err != nil {
			return err
		}
		if len(items) == 0 || len(items) > maxSteps {
			return steps.Fail("%s: %d steps are given; from 1 to %d are expected", fig.Name, len(items), maxSteps)
		}
		for i, item := range items {
			s, err := readStep(item)
			if err != nil {
				return inFigure(err, fig.Name, i+1)
			}
			p.steps = append(p.steps, s)
		}
		l.parts[key] = p
	}
	return nil
}

// inFigure puts figure and step before a fault's words.
func inFigure(err error, figure string, step int) error {
	var fault *document.Error
	if errors.As(err, &fault) {
		told := *fault
		told.Problem = fmt.Sprintf("%s, step %d: %s", figure, step, fault.Problem)
		return &told
	}
	return err
}

// assemble puts the parts of each variant together.
func (l *loader) assemble() {
	for i := range l.drafts {
		d := &l.drafts[i]
		v := &Variant{Figure: d.figure, Label: d.label, Awkward: d.awkward, Line: d.at.Line()}
		heading, hold := d.from[0].Turn(), d.holds[0]
		free := NoFoot
		for _, name := range d.parts {
			p := l.parts[partKey(d.figure.Name, name)]
			if figure, part, other := strings.Cut(name, "/"); p == nil && other {
				p = l.parts[partKey(strings.TrimSpace(figure), strings.TrimSpace(part))]
			}
			if p == nil {
				l.fail(d.partsAt.Fail("%s: there is no part %q; the parts of a figure stand under its \"parts\", those of another are named figure/part", v.Name(), name))
				break
			}
			rotation := heading - p.facing.Turn()
			for _, s := range p.steps {
				step := s.Step
				step.Toward += rotation
				if step.KeepsHold {
					step.Hold = hold
				}
				hold = step.Hold
				heading += step.Turn + step.Pivot + step.Completes
				if free == NoFoot {
					free = step.Actions[Leader].Foot
				}
				v.Steps = append(v.Steps, step)
			}
		}
		if free == NoFoot {
			l.fail(d.at.Fail("%s: the leader takes no step at all", v.Name()))
			continue
		}
		for _, h := range d.holds {
			for _, from := range d.from {
				v.Entries = append(v.Entries, Stance{from, free, h})
			}
		}
		d.figure.Variants = append(d.figure.Variants, v)
	}
}

// names refuses names that a reader could take for one another.
func (l *loader) names() {
	taken := map[string]*Figure{}
	for _, f := range l.figures {
		for _, name := range append([]string{f.Name}, f.Also...) {
			key := NameKey(name)
			if other := taken[key]; other != nil {
				l.fail(&document.Error{File: f.File, Line: f.Line, Field: "name",
					Problem: fmt.Sprintf("%s: the name is taken by the figure on line %d; two figures need names that differ in more than case, accents or spaces", name, other.Line)})
				continue
			}
			taken[key] = f
		}
		labels := map[string]bool{}
		for _, v := range f.Variants {
			if key := NameKey(v.Label); labels[key] {
				l.fail(&document.Error{File: f.File, Line: v.Line, Field: "label",
					Problem: fmt.Sprintf("%s: two variants have the label %q; label them differently", f.Name, v.Label)})
			} else {
				labels[key] = true
			}
		}
	}
}

// check refuses what cannot be danced.
func (l *loader) check(c Couple) {
	for _, f := range l.figures {
		for _, v := range f.Variants {
			for _, fault := range v.Faults(c) {
				line := v.Line
				if fault.Step > 0 {
					line = v.Steps[fault.Step-1].Line
				}
				l.fail(&document.Error{File: f.File, Line: line, Problem: v.Name() + ", " + fault.String()})
			}
		}
	}
}

// readStep reads one step.
func readStep(at *document.Node) (s stepDraft, err error) {
	f, err := at.Fields("beats", "foot", "follower", "travel", "turn", "pivot", "completes", "hold",
		"heel turn", "without weight", "points", "shift", "footwork", "rise")
	if err != nil {
		return s, err
	}
	s.Line, s.Beats, s.KeepsHold = at.Line(), 1, true
	if v := f.Get("beats"); v != nil {
		if s.Beats, err = v.Number(0.25, maxBeats); err != nil {
			return s, err
		}
		if quarters := s.Beats * 4; quarters != float64(int(quarters)) {
			return s, v.Fail("%g beats is not a whole number of quarter beats", s.Beats)
		}
	}
	foot, err := f.Need("foot")
	if err != nil {
		return s, err
	}
	lead, err := texts(foot, ParseFoot)
	if err != nil {
		return s, err
	}
	s.Actions[Leader].Foot = lead[0]
	s.Actions[Follower].Foot = lead[0].Other()
	if v := f.Get("follower"); v != nil {
		follow, err := texts(v, ParseFoot)
		if err != nil {
			return s, err
		}
		s.Actions[Follower].Foot = follow[0]
	}
	if err := readTravel(f, &s.Step); err != nil {
		return s, err
	}
	for name, to := range map[string]*geometry.Turn{"turn": &s.Turn, "pivot": &s.Pivot, "completes": &s.Completes} {
		if err := readTurn(f.Get(name), to); err != nil {
			return s, err
		}
	}
	if v := f.Get("hold"); v != nil {
		holds, err := texts(v, ParseHold)
		if err != nil {
			return s, err
		}
		s.Hold, s.KeepsHold = holds[0], false
	}
	if err := readActions(f, &s.Step); err != nil {
		return s, err
	}
	if v := f.Get("rise"); v != nil {
		if s.Rise, err = v.Text(); err != nil {
			return s, err
		}
	}
	return s, nil
}

func readTurn(v *document.Node, to *geometry.Turn) error {
	if v == nil {
		return nil
	}
	words, err := v.Text()
	if err != nil {
		return err
	}
	if *to, err = geometry.ParseTurn(words); err != nil {
		return v.Fail("%v", err)
	}
	return nil
}

// readTravel reads a distance in strides and a direction: "0.8 LOD-DC".
func readTravel(f *document.Fields, s *Step) error {
	v := f.Get("travel")
	if v == nil {
		return nil
	}
	words, err := v.Text()
	if err != nil {
		return err
	}
	var toward string
	if n, _ := fmt.Sscanf(words, "%f %s", &s.Strides, &toward); n != 2 {
		return v.Fail("%q is not a travel: write strides and a direction, such as 0.8 LOD", words)
	}
	if !(s.Strides >= 0 && s.Strides <= maxStrides) {
		return v.Fail("%g strides is out of range: from 0 to %d are expected", s.Strides, maxStrides)
	}
	if s.Toward, err = parseDirection(toward); err != nil {
		return v.Fail("%v", err)
	}
	return nil
}

// readActions reads what may differ between the two dancers.
func readActions(f *document.Fields, s *Step) error {
	for name, mark := range map[string]func(*Action){
		"heel turn":      func(a *Action) { a.HeelTurn = true },
		"without weight": func(a *Action) { a.Weightless = true },
	} {
		v := f.Get(name)
		if v == nil {
			continue
		}
		who, err := texts(v, parseDancer)
		if err != nil {
			return err
		}
		for _, d := range who {
			mark(&s.Actions[d])
		}
	}
	if v := f.Get("points"); v != nil {
		p, err := v.Fields(Leader.String(), Follower.String())
		if err != nil {
			return err
		}
		for d := Leader; d <= Follower; d++ {
			if err := readTurn(p.Get(d.String()), &s.Actions[d].Points); err != nil {
				return err
			}
		}
	}
	if v := f.Get("footwork"); v != nil {
		words, err := v.Texts()
		if err != nil {
			return err
		}
		if len(words) != 2 {
			return v.Fail("two entries are expected, the leader's and the follower's, not %d", len(words))
		}
		s.Actions[Leader].Footwork, s.Actions[Follower].Footwork = words[0], words[1]
	}
	v := f.Get("shift")
	if v == nil {
		return nil
	}
	p, err := v.Fields(Leader.String(), Follower.String())
	if err != nil {
		return err
	}
	for d := Leader; d <= Follower; d++ {
		at := p.Get(d.String())
		if at == nil {
			continue
		}
		xy, err := at.Items()
		if err != nil {
			return err
		}
		if len(xy) != 2 {
			return at.Fail("two numbers are expected, metres ahead and to the left, not %d", len(xy))
		}
		if s.Actions[d].Shift.X, err = xy[0].Number(-2, 2); err != nil {
			return err
		}
		if s.Actions[d].Shift.Y, err = xy[1].Number(-2, 2); err != nil {
			return err
		}
	}
	return nil
}

func parseDancer(s string) (Dancer, error) {
	for d := Leader; d <= Follower; d++ {
		if strings.EqualFold(s, d.String()) {
			return d, nil
		}
	}
	return 0, fmt.Errorf("%q is not a dancer: write leader or follower", s)
}
