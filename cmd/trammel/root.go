package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"golang.org/x/term"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/session"
)

func isTerminal(f *os.File) bool { return term.IsTerminal(int(f.Fd())) }

// useError is wrong use: exit 2.
type useError struct{ err error }

func (e *useError) Error() string { return e.err.Error() }

func (e *useError) Unwrap() error { return e.err }

func misuse(format string, args ...any) error { return &useError{fmt.Errorf(format, args...)} }

// hinted is an error with a line that says what to do.
type hinted struct {
	err  error
	hint string
}

func (e *hinted) Error() string { return e.err.Error() }

func (e *hinted) Unwrap() error { return e.err }

func withHint(err error, format string, args ...any) error {
	return &hinted{err, fmt.Sprintf(format, args...)}
}

// report prints an error and what to do about it on standard error, and returns the exit code.
// No capital, no full stop; complaints carry the program's name, hints stand on lines of their
// own, so that a script can leave them out.
func report(w world, err error) int {
	if err == nil {
		return exitDone
	}
	by := endedBy(err)
	if by != nil && by.err == nil {
		return by.code()
	}
	tellErrors(w, err)
	var use *useError
	switch {
	case by != nil:
		return by.code()
	case errors.As(err, &use):
		return exitUse
	}
	return exitNo
}

func hint(err error) string {
	var h *hinted
	var file *job.Error
	var refusal *session.Refusal
	var says interface{ Hint() string }
	var lost *session.RecordError
	var line *session.LineError
	var use *useError
	var place *fs.PathError
	switch {
	case errors.As(err, &h):
		return h.hint
	case errors.As(err, &file) && file.Hint == "":
		return correctIn + file.File
	case errors.As(err, &file):
		return file.Hint
	case errors.As(err, &refusal):
		return refusal.Hint
	case errors.As(err, &says):
		return says.Hint()
	case errors.As(err, &lost):
		return "everything before it is on record; see to the disk, then go on with --journal and --resume"
	case errors.As(err, &line):
		return "the file was left as it is; go on with the program that wrote it"
	case errors.As(err, &use):
		return "trammel --help lists the verbs, trammel VERB --help their flags"
	case errors.As(err, &place):
		return placeHint(place)
	}
	return ""
}

// printable replaces what could drive a terminal: messages may quote file names.
func printable(s string) string { return geom.PrintableLine(s) }

// escapeRest writes in JSON's own escapes what encoding/json leaves as it is and does not print. Such
// characters stand inside strings only; one beyond the first plane takes two escapes (RFC 8259, 7).
func escapeRest(b []byte) []byte {
	if !bytes.ContainsFunc(b, func(r rune) bool { return !geom.Prints(r) }) {
		return b
	}
	var out []byte
	for _, r := range string(b) {
		if geom.Prints(r) {
			out = utf8.AppendRune(out, r)
			continue
		}
		for _, half := range utf16.Encode([]rune{r}) {
			out = fmt.Appendf(out, `\u%04x`, half)
		}
	}
	return out
}

// common are the flags that every verb knows.
type common struct {
	unit value[geom.Unit]
	json bool

	settings *settings
}

// screen refuses a unit for the screen, which shows what is typed into it.
func (c *common) screen(typed geom.Unit) error {
	if c.unit.or(typed) != typed {
		return misuse("--unit %v on the screen, which shows what is typed: %v; name the unit in the job file", c.unit.v, typed)
	}
	return nil
}

func newRoot(w world) *cobra.Command {
	c := common{unit: unit(), settings: w.settings}
	root := &cobra.Command{
		Use:   "trammel",
		Short: "bring a swing radius and its centre in, from indicator readings to handwheel winds",
		Long: `trammel takes indicator readings at several stations, fits the circle, says the
true swing radius and centre error and how sure they are, and tells how far and
which way to wind each slide so that backlash cannot spoil it.

Without a verb it opens the start page on a terminal, where practice, a new setting, the
arcs of a drawing and all else are chosen by numbers; where there is none it plays
practice through.`,
		Version:       wholeVersion(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          noArgs,
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			if bare[cmd.Name()] || w.settings == nil {
				return nil
			}
			err := w.settings.read(w, cmd)
			if cmd.Name() == cobra.ShellCompRequestCmd {
				addOffers(w, &c, cmd.Root())
				return nil // it goes without settings that cannot be read
			}
			if err != nil {
				return err
			}
			return c.fractions(cmd)
		},
		RunE: func(*cobra.Command, []string) error {
			return startVerb(w, &c)
		},
	}
	root.SetVersionTemplate("{{.Version}}\n")
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return &useError{toldOnce(err)} })
	root.PersistentFlags().Var(&c.unit, "unit", "unit of what is typed and shown (default mm, or what the file names)")
	root.PersistentFlags().BoolVar(&c.json, "json", false, "say everything as JSON, one object a line")
	root.AddCommand(
		newFit(w, &c),
		newDial(w, &c),
		newMachine(w, &c),
		newGauge(w, &c),
		newReach(w, &c),
		newCheck(w, &c),
		newReplay(w, &c),
		newReport(w, &c),
		newNote(w, &c),
		newTaught(w, &c),
		newSessions(w, &c),
		newPlan(w, &c),
		newBlends(w, &c),
		newSheet(w, &c),
		newConfig(w, &c),
		newPractice(w, &c),
		newCompletion(w),
		newMan(w, &c),
	)
	addTopics(w, root)
	wrapHelp(w, root)
	addExamples(root)
	return root
}

// toldOnce is what is wrong with a flag. Ours say what was seen; the library says it too.
func toldOnce(err error) error {
	var wrong *pflag.InvalidValueError
	if errors.As(err, &wrong) && strings.HasPrefix(wrong.Unwrap().Error(), strconv.Quote(wrong.GetValue())) {
		return fmt.Errorf("--%s %w", wrong.GetFlag().Name, wrong.Unwrap())
	}
	return err
}

func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		if !cmd.HasParent() {
			var verbs []string
			for _, verb := range cmd.Commands() {
				if verb.Name() != "help" && verb.Runnable() {
					verbs = append(verbs, verb.Name())
				}
			}
			hint := nearestHelp(cmd, args[0])
			if _, ok := findTopic(args[0]); ok {
				hint = "trammel help " + args[0] + " prints the page of that name"
			}
			return withHint(misuse("unknown verb %q, need one of %s", args[0], strings.Join(verbs, ", ")), "%s", hint)
		}
		return misuse("%s takes no argument, seen %q", cmd.Name(), args[0])
	}
	return nil
}
