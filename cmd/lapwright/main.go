// Command lapwright plans how a couple dances waltz round a real room: it makes
// laps and checks the ones that people write.
//
// What lives here: commands, flags, tables and progress, one file a command.
// What does not: how anything is computed (search, graph, floors, figures), and
// the shapes of files, drawings and JSON (cmd/internal).
//
//	go run ./cmd/lapwright lap
package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"regexp"
	"slices"
	"strings"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"lapwright/cmd/internal/page"
	"lapwright/cmd/internal/wholefile"
)

// program is what can be asked for on the command line.
type program struct {
	Lap     lapCommand      `cmd:"" help:"Make a lap: figures that take a couple once round a room."`
	Check   checkCommand    `cmd:"" help:"Dance a routine from its file and report every fault where it happens."`
	Vary    varyCommand     `cmd:"" help:"Find other ways of dancing a routine, or some bars of it, and show them side by side."`
	Next    nextCommand     `cmd:"" help:"List what can follow where a couple stands, with the future that each figure leaves."`
	WaysOut waysOutCommand  `cmd:"" name:"ways-out" help:"Find ways out of a bad spot: the quickest back to the lane, and ways of waiting in place."`
	Drill   drillCommand    `cmd:"" help:"Draw random routines for students to practise: any that can be danced, as likely as any other."`
	Teach   teachCommand    `cmd:"" help:"Say which figures are enough to get round a room, which to teach next, and in what order."`
	Sheet   sheetCommand    `cmd:"" help:"Make sheets to take home: the floor, what is called, the steps and what to mind; or cards of drills."`
	Track   trackCommand    `cmd:"" help:"Make a practice track of a routine: clicks, with the figures called a bar ahead."`
	Page    pageCommand     `cmd:"" help:"Open the page: all of this in a browser, on this machine."`
	Figures figuresCommands `cmd:"" help:"List the figures, show one of them step by step, or check figures of one's own."`
	Rooms   roomsCommand    `cmd:"" help:"List the rooms, or show one of them with its walls and lane."`
	Graph   graphCommand    `cmd:"" help:"Write what may follow what as a graph in the DOT language."`

	JSON    bool `name:"json" help:"Print the answer as JSON."`
	NoColor bool `name:"no-color" help:"Print without colour, as the environment variable NO_COLOR asks for too."`
}

// How the program ends.
const (
	exitFine    = 0
	exitNo      = 1 // an answer that is a no, with its reason
	exitBad     = 2 // bad usage or bad input
	exitStopped = 130
)

// errNo tells that the answer, which has been given, is a no.
var errNo = errors.New("the answer is a no")

// faultOfOurs is a fault of the program itself.
type faultOfOurs struct{ error }

// grace is how long a program that is stopped may take to show what it has.
const grace = 2 * time.Second

// serving tells that the page is served: to end it by Ctrl-C is what it waits for, and it
// takes the time that its searches have to come to an end.
var serving atomic.Bool

// session is one run of the program.
type session struct {
	ctx    context.Context
	out    *bytes.Buffer // the answer, printed when it is complete
	errors io.Writer
	json   bool
	paint  paint
	// command is the command line, as it could be written again.
	command string
	// terminal tells that somebody sees what is written to errors.
	terminal bool
	// lines asks for progress as lines of JSON, see [page.Tell].
	lines bool
}

func main() {
	confine()
	ctx, cancel := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer cancel()
	done := make(chan int, 1)
	go func() { done <- run(ctx, os.Args[1:], os.Stdout, os.Stderr) }()
	select {
	case code := <-done:
		os.Exit(code)
	case <-ctx.Done():
		cancel() // a second Ctrl-C ends the program at once
		// A search shows the best that it has so far.
		wait := grace
		if serving.Load() {
			wait = 2 * page.Grace
		}
		select {
		case code := <-done:
			if serving.Load() {
				os.Exit(code)
			}
			os.Exit(exitStopped)
		case <-time.After(wait):
		}
		wholefile.Settle()
		if isTerminal(os.Stderr) {
			fmt.Fprint(os.Stderr, clearLine)
		}
		fmt.Fprintln(os.Stderr, "lapwright: stopped")
		os.Exit(exitStopped)
	}
}

// run is the program; it returns the exit code.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	var p program
	// Help ends the program in the middle of parsing.
	type ended int
	s := &session{ctx: ctx, out: &bytes.Buffer{}, errors: stderr, terminal: isTerminal(stderr), lines: os.Getenv(page.Tell) != "", command: commandLine(args)}
	parser, err := kong.New(&p,
		kong.Name("lapwright"),
		kong.Description("Plans how a couple dances waltz round a real room, along the line of dance, and checks routines that people write."),
		kong.Writers(stdout, stderr),
		kong.Exit(func(code int) { panic(ended(code)) }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, FlagsLast: false, WrapUpperBound: 100}),
		kong.PostBuild(func(k *kong.Kong) error {
			k.Model.HelpFlag.Help = "Show this help."
			return nil
		}),
		kong.Bind(s))
	if err != nil {
		fmt.Fprintln(stderr, "lapwright:", err)
		return exitBad
	}
	code := exitFine
	func() {
		defer func() {
			switch end := recover().(type) {
			case nil:
			case ended:
				code = int(end)
				parser = nil
			default:
				panic(end)
			}
		}()
		if err = blank(args); err != nil {
			return
		}
		var chosen *kong.Context
		if chosen, err = parser.Parse(joined(args)); err != nil {
			err = asked(err, args)
			return
		}
		s.json = p.JSON
		s.paint = paint(!p.NoColor && wantsColour(stdout))
		err = chosen.Run()
	}()
	if parser == nil {
		return code
	}
	return finish(ctx, s, err, stdout, stderr)
}

// finish prints the answer and tells how it went.
func finish(ctx context.Context, s *session, err error, stdout, stderr io.Writer) int {
	code := exitFine
	var ours faultOfOurs
	switch {
	case err == nil:
	case errors.Is(err, errNo):
		code = exitNo
	case errors.Is(err, errUnread):
		code = exitBad
	case ctx.Err() != nil:
		fmt.Fprintln(stderr, "lapwright: stopped")
		return exitStopped
	case errors.As(err, &ours):
		fmt.Fprintln(stderr, "lapwright: internal fault:", err)
		return exitNo
	default:
		for _, line := range strings.Split(few(err.Error()), "\n") {
			fmt.Fprintln(stderr, "lapwright:", line)
		}
		return exitBad
	}
	if _, err := stdout.Write(s.out.Bytes()); err != nil && !errors.Is(err, syscall.EPIPE) {
		fmt.Fprintln(stderr, "lapwright: the answer cannot be written:", err)
		return exitBad
	}
	return code
}

// asked says what is wrong with a command line where the parser's own words are
// about commands rather than dancing.
func asked(err error, args []string) error {
	switch words := err.Error(); {
	case strings.HasPrefix(words, "expected one of"):
		return errors.New("say what is wanted: lap, check, vary, next, ways-out, drill, teach, sheet, track, page, figures, rooms or graph; lapwright --help tells more")
	case strings.HasPrefix(words, `expected "<file>"`) && slices.Contains(args, "figures"):
		return errors.New("figures check needs the file of figures: lapwright figures check FILE.yaml")
	case strings.HasPrefix(words, `expected "<file>"`) && slices.Contains(args, "vary"):
		return errors.New("vary needs the file of a routine: lapwright vary FILE.yaml --replace 9-16")
	case strings.HasPrefix(words, `expected "<file>"`) && slices.Contains(args, "track"):
		return errors.New("track needs the file of a routine: lapwright track FILE.yaml --wav FILE.wav")
	case strings.HasPrefix(words, `expected "<file> ..."`):
		return errors.New("sheet needs the file of a routine: lapwright sheet FILE.yaml --pdf FILE.pdf")
	case strings.HasPrefix(words, `expected "<file>"`):
		return errors.New("check needs the file of a routine: lapwright check FILE.yaml")
	case strings.Contains(words, "expected string value but got"), strings.Contains(words, "missing value"):
		flag, _, _ := strings.Cut(words, ":")
		return fmt.Errorf("%s needs a value after it; lapwright --help tells more", flag)
	}
	return err
}

// commandLine is the program's call, with quotes where a shell needs them. Of a call by
// the page's server only what says how something was found is told: the files are those
// of a moment, so that of a call that names one only the page is told.
func commandLine(args []string) string {
	onPage := os.Getenv(page.OnlyHere) != ""
	if onPage && slices.ContainsFunc(args, func(a string) bool { return strings.HasSuffix(a, ".yaml") && !page.OwnWord(a) }) {
		return "lapwright page"
	}
	words := []string{"lapwright"}
	for _, a := range args {
		if onPage && page.OwnWord(a) {
			continue
		}
		if !simple.MatchString(a) {
			a = "'" + strings.ReplaceAll(a, "'", `'\''`) + "'"
		}
		words = append(words, a)
	}
	return strings.Join(words, " ")
}

// blank refuses an argument without a letter in it, which is a slip: nothing is
// chosen by it, and whoever wrote it meant something.
func blank(args []string) error {
	for i, a := range args {
		flag, value, tied := strings.Cut(a, "=")
		switch {
		case longFlag.MatchString(flag) && tied && strings.TrimSpace(value) == "":
		case strings.TrimSpace(a) == "" && i > 0 && longFlag.MatchString(args[i-1]):
			flag = args[i-1]
		case strings.TrimSpace(a) == "":
			return errors.New("an empty name is given; write the name, or leave it out")
		default:
			continue
		}
		return fmt.Errorf("%s is given nothing; write a value after it, or leave the flag out", flag)
	}
	return nil
}

// few cuts a long list of faults short.
func few(faults string) string {
	const most = 200
	lines := strings.Split(strings.TrimSpace(faults), "\n")
	if len(lines) > most {
		lines = append(lines[:most], fmt.Sprintf("and %d more faults", len(lines)-most))
	}
	for i, line := range lines {
		if letters := []rune(line); len(letters) > 600 {
			lines[i] = string(letters[:600]) + " …"
		}
	}
	return strings.Join(lines, "\n")
}

var (
	longFlag = regexp.MustCompile(`^--[a-z-]+$`)
	simple   = regexp.MustCompile(`^[\w./:=,@%+-]+$`)
	negative = regexp.MustCompile(`^-[\d.]`)
)

// joined ties a negative number to the flag before it, so that it is read as its
// value and can be refused for what it is.
func joined(args []string) []string {
	var tied []string
	for _, a := range args {
		if n := len(tied); n > 0 && negative.MatchString(a) && longFlag.MatchString(tied[n-1]) {
			tied[n-1] += "=" + a
			continue
		}
		tied = append(tied, a)
	}
	return tied
}
