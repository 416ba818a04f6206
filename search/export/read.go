package export

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"lapwright/figures/document"
	"lapwright/search/label"
	"lapwright/search/network"
)

const (
	form    = "lapwright network"
	version = 1
)

// most are the greatest numbers that are read.
var most = struct{ nodes, figures, classes, ways, bars, cost, walls int }{
	nodes: 1 << 24, figures: 1 << 16, classes: 64, ways: 1 << 20, bars: 1_000_000, cost: 1_000_000, walls: math.MaxInt16,
}

// Read reads an instance in the form of the package comment. The name is what the file
// is called in errors, which are of type [document.Error] and say on which line
// something else was expected, and what. What it reads, [Write] writes.
func Read(name string, data []byte) (*Instance, error) {
	r := &reader{name: name, rest: data}
	r.next()
	r.header()
	r.names()
	r.ways()
	r.limits()
	r.nodes()
	if r.err != nil {
		return nil, r.err
	}
	return r.build()
}

// reader reads a file line by line. After an error it reads nothing more.
type reader struct {
	name string
	rest []byte
	line int      // number of the line under way
	text string   // the line under way
	left []string // its words that are not yet read
	done bool     // there are no more lines
	err  error

	instance Instance
	builder  network.Builder
	dearest  int
}

// fail notes what is wrong with the line under way.
func (r *reader) fail(format string, args ...any) {
	if r.err == nil {
		r.err = &document.Error{File: r.name, Line: r.line, Problem: fmt.Sprintf(format, args...)}
	}
	r.done, r.left = true, nil
}

// expected notes that something else stands where words should.
func (r *reader) expected(what string) {
	if r.done && r.err == nil {
		r.fail("the file ends; expected %s", what)
		return
	}
	found := "the end of the line"
	if len(r.left) > 0 {
		found = strconv.Quote(r.left[0])
	}
	r.fail("found %s; expected %s", found, what)
}

// next goes on to the next line that says something.
func (r *reader) next() {
	for r.err == nil {
		if len(r.rest) == 0 {
			r.done, r.text, r.left = true, "", nil
			return
		}
		line := r.rest
		if i := bytes.IndexByte(r.rest, '\n'); i >= 0 {
			line, r.rest = r.rest[:i], r.rest[i+1:]
		} else {
			r.rest = nil
		}
		r.line++
		r.text = string(line)
		r.left = strings.Fields(r.text)
		if len(r.left) > 0 && !strings.HasPrefix(r.left[0], "#") {
			return
		}
	}
}

// is takes some words off the line if it goes on with them.
func (r *reader) is(words string) bool {
	rest := r.left
	for word := range strings.FieldsSeq(words) {
		if len(rest) == 0 || rest[0] != word {
			return false
		}
		rest = rest[1:]
	}
	r.left = rest
	return true
}

// need takes some words off the line.
func (r *reader) need(words string) {
	if !r.is(words) {
		r.expected(strconv.Quote(words))
	}
}

// number takes a whole number from least to greatest off the line.
func (r *reader) number(what string, least, greatest int) int {
	span := fmt.Sprintf("%s, a whole number from %d to %d", what, least, greatest)
	if len(r.left) == 0 {
		r.expected(span)
		return least
	}
	n, err := strconv.Atoi(r.left[0])
	if err != nil || n < least || n > greatest || strconv.Itoa(n) != r.left[0] {
		r.expected(span)
		return least
	}
	r.left = r.left[1:]
	return n
}

// count is number for what is kept in 32 bits.
func (r *reader) count(what string, least, greatest int) int32 {
	return int32(r.number(what, least, greatest))
}

// among takes the number of one of so many things off the line.
func (r *reader) among(what string, count int) int {
	if count == 0 {
		r.fail("there is no %s, and one is named", what)
		return 0
	}
	return r.number("the number of a "+what, 0, count-1)
}

// finish goes on to the next line; nothing may be left of this one.
func (r *reader) finish() {
	if len(r.left) > 0 {
		r.expected("the end of the line")
	}
	r.next()
}

// words takes what is left of the line as words in one, and goes on to the next line.
func (r *reader) words(what string) string {
	name := strings.Join(r.left, " ")
	if r.err == nil && !onLine(name) {
		r.expected(what + " in letters that can be printed")
	}
	r.next()
	return name
}

func (r *reader) header() {
	if !r.is(form) {
		r.expected(fmt.Sprintf("%q on the first line", fmt.Sprint(form, " ", version)))
		return
	}
	r.number("the version", version, version)
	r.finish()
	if r.is("name") {
		r.instance.Name = r.words("a name")
	}
	r.need("cutoff")
	r.builder.Cutoff = int32(r.number("a cost in hundredths of a bar", 0, math.MaxInt32))
	r.finish()
}

// names reads the figures and the classes.
func (r *reader) names() {
	for r.is("figure") {
		r.counted("figure", len(r.instance.Figures), most.figures)
		r.instance.Figures = append(r.instance.Figures, r.words("the name of a figure"))
	}
	for r.is("class") {
		r.counted("class", len(r.instance.Classes), most.classes)
		r.instance.Classes = append(r.instance.Classes, r.words("the name of a class"))
	}
	r.builder.Figures = len(r.instance.Figures)
}

// counted takes the next number in turn off the line.
func (r *reader) counted(what string, next, greatest int) {
	if next >= greatest {
		r.fail("there are more than %d of these: %s", greatest, what)
		return
	}
	r.number("the number of the "+what+" in turn", next, next)
}

func (r *reader) ways() {
	for r.is("way") {
		r.counted("way", len(r.builder.Ways), most.ways)
		var w network.Way
		r.need("figure")
		w.Figure = int32(r.among("figure", len(r.instance.Figures)))
		r.need("bars")
		w.Bars = int32(r.number("bars", 1, most.bars))
		w.Right = r.is("right")
		if r.is("class") {
			for more := true; more; more = len(r.left) > 0 {
				w.Classes |= 1 << r.among("class", len(r.instance.Classes))
			}
		}
		r.builder.Ways = append(r.builder.Ways, w)
		r.finish()
	}
}

func (r *reader) limits() {
	for r.is("limit") {
		r.limit(&r.instance.Limits)
		r.finish()
	}
}

func (r *reader) limit(l *label.Limits) {
	figure := func() int32 {
		r.need("figure")
		return int32(r.among("figure", len(r.instance.Figures)))
	}
	switch {
	case r.is("class"):
		c := label.Cap{Class: uint8(r.among("class", len(r.instance.Classes)))}
		r.need("most")
		c.Most = r.count("uses", 0, most.bars)
		l.Caps = append(l.Caps, c)
	case r.is("must"):
		l.Must = append(l.Must, figure())
	case r.is("order"):
		l.Orders = append(l.Orders, label.Order{First: figure(), Then: figure()})
	case r.is("fixed"):
		f := label.Fixed{Figure: figure(), Wall: -1}
		r.need("bar")
		f.Bar = r.count("a bar", 1, most.bars)
		if r.is("wall") {
			f.Wall = int16(r.number("the number of a wall", 0, most.walls))
		}
		l.Fixed = append(l.Fixed, f)
	default:
		for _, f := range numbers(l) {
			if !r.is(f.words) {
				continue
			}
			if *f.value != 0 {
				r.fail("this limit stands on a line before")
			}
			*f.value = r.count("a limit", 1, most.bars)
			return
		}
		r.expected("a limit: least bars, most bars, phrase, uses, apart, different, right turns, class, must, order or fixed")
	}
}

func (r *reader) nodes() {
	r.need("nodes")
	nodes := r.number("how many nodes there are", 2, most.nodes)
	r.need("end")
	r.builder.End = int32(r.among("node", nodes))
	r.finish()
	for r.is("node") {
		r.node(nodes)
	}
	switch {
	case r.err != nil:
	case len(r.builder.Walls) < nodes:
		r.expected(fmt.Sprintf("node %d of %d", len(r.builder.Walls), nodes))
	case !r.done:
		r.expected(`"to" or the end of the file`)
	case len(r.builder.Sources) == 0:
		r.fail("no node is marked as a source")
	}
}

// node reads a node, of so many, and the arcs that leave it.
func (r *reader) node(nodes int) {
	from := int32(len(r.builder.Walls))
	r.counted("node", len(r.builder.Walls), nodes)
	wall := -1
	if r.is("wall") {
		wall = r.number("the number of a wall", 0, most.walls)
	}
	r.builder.Walls = append(r.builder.Walls, int16(wall))
	if r.is("source") {
		r.builder.Sources = append(r.builder.Sources, from)
	}
	r.finish()
	for r.is("to") {
		r.arc(from, nodes)
	}
}

// arc reads an arc that leaves a node, of so many.
func (r *reader) arc(from int32, nodes int) {
	if from == r.builder.End {
		r.fail("an arc leaves node %d, which is the end", from)
	}
	a := network.Arc{To: int32(r.among("node", nodes)), Way: network.Closing}
	least := 0
	if a.To == r.builder.End {
		r.need("closes")
	} else {
		r.need("way")
		a.Way = int32(r.among("way", len(r.builder.Ways)))
		least = 1
	}
	r.need("cost")
	a.Cost = int32(r.number("a cost in hundredths of a bar", least, most.cost))
	r.dearest = max(r.dearest, int(a.Cost))
	r.builder.Add(from, a)
	r.finish()
}

// build makes the network of what was read.
func (r *reader) build() (*Instance, error) {
	if nodes := len(r.builder.Walls); r.dearest*nodes >= math.MaxInt32 {
		r.fail("an arc costs %d hundredths of a bar; with %d nodes at most %d can be counted", r.dearest, nodes, (math.MaxInt32-1)/nodes)
		return nil, r.err
	}
	n, err := r.builder.Build()
	if err != nil {
		r.fail("%s", strings.TrimPrefix(err.Error(), "network: "))
		return nil, r.err
	}
	r.instance.Network = n
	return &r.instance, nil
}
