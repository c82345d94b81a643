package main

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"go.bug.st/serial"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
)

// gaugeFlags are those of the verb that sets a cable indicator up.
type gaugeFlags struct {
	machine string
	lines   bool
	manner
}

func newGauge(w world, c *common) *cobra.Command {
	var f gaugeFlags
	cmd := &cobra.Command{
		Use:   "gauge [SPEC]",
		Short: "set a cable indicator up: see what it sends, and what that means, until it is right",
		Long: `gauge shows what comes from an indicator's cable, line by line, made harmless, and what
each line means: value, sign and unit. What the figures mean can be changed until it is
right, without an editor: where the figure stands in a line, the sign, the unit, a preset,
when it sends, baud rate, bits and parity. Then it is kept in the machine's file, under
[gauge]; every change is told, and the rest of the file stays as it is.

SPEC is ` + gauge.SourceForms() + `, or the bare name of a serial line;
without it the machine file's is taken, or else the serial lines that are there are listed.
Where no machine is named, and not one alone is known, what to write is shown.`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return misuse("gauge takes one source, seen %q; a program and its arguments stand in quotes", args)
			}
			return nil
		},
		RunE: func(_ *cobra.Command, args []string) error { return gaugeVerb(w, c, &f, strings.Join(args, "")) },
	}
	cmd.Flags().StringVar(&f.machine, "machine", "", "machine, by its name or its file (default: the one that is known)")
	cmd.Flags().BoolVar(&f.lines, "lines", false, "plain lines in and out")
	f.manner.add(cmd)
	return cmd
}

// gaugeTrial is a cable indicator that is being set up for a machine.
type gaugeTrial struct {
	file string // the machine's; empty where none is named
	text []byte // of it, as it was when the setting up began
	unit geom.Unit
	set  gauge.Settings
}

func gaugeVerb(w world, c *common, f *gaugeFlags, spec string) error {
	t, err := newGaugeTrial(w, c, f)
	if err != nil {
		return err
	}
	if spec != "" {
		if t.set.Source, err = gauge.PickSource(nil, spec); err != nil {
			return misuse("%v", err)
		}
	}
	if f.lines || c.json || !w.terminal {
		return gaugeInLines(w, c, t)
	}
	return gaugeOnScreen(w, c, f, t)
}

// cabled goes on to what comes from the cable indicator of a new machine, where it has one: on its page, or with a hint.
func cabled(w world, c *common, f *askFlags, name string, text []byte) error {
	switch s, err := job.ParseGauge(name, text); {
	case err != nil || s.Source == "":
		return nil
	case f.lines || c.json || !w.terminal:
		_, err := fmt.Fprintf(w.err, "trammel: hint: trammel gauge --machine %s shows what comes from the cable indicator, "+
			"and sets what that means\n", quoted(name))
		return err
	}
	return gaugeVerb(w, c, &gaugeFlags{machine: name, manner: f.manner}, "")
}

// newGaugeTrial begins with what the machine's file states.
func newGaugeTrial(w world, c *common, f *gaugeFlags) (*gaugeTrial, error) {
	t := &gaugeTrial{unit: c.unit.or(geom.Millimetre), set: gauge.Usual()}
	named := w.orMachine(f.machine)
	if named == "" {
		_, names, err := knownMachines(w)
		if err != nil || len(names) != 1 {
			return t, nil // it can be looked at all the same
		}
		named = names[0]
	}
	file, err := machineFile(w, named)
	if err != nil {
		return nil, err
	}
	m, text, err := readMachine(file)
	if err != nil {
		return nil, mends(w, file, err)
	}
	t.file, t.text, t.unit = file, text, c.unit.or(m.Unit)
	t.set, err = job.ParseGauge(file, text)
	return t, err
}

// keep writes what was found right into the machine's file, or says what to write.
func (t *gaugeTrial) keep(w world, c *common, s gauge.Settings) error {
	s = wholeSource(s)
	if t.file == "" {
		return say(w, c, record.GaugeStates(job.GaugeText(s, t.unit), t.unit))
	}
	return rewriteMachine(w, c, t.file, func(name string, text []byte) ([]byte, []job.Change, error) {
		return job.EditGauge(name, text, s)
	})
}

// wholeSource names a pipe as it is found from other folders too.
func wholeSource(s gauge.Settings) gauge.Settings {
	if path, ok := strings.CutPrefix(s.Source, string(gauge.Pipe)+":"); ok {
		if whole, err := filepath.Abs(path); err == nil {
			s.Source = string(gauge.Pipe) + ":" + whole
		}
	}
	return s
}

// serialPorts are the serial lines that are there.
func serialPorts() []string {
	ports, _ := serial.GetPortsList() // where they cannot be listed, one can be named
	return ports
}

// sourceQuestion asks which line the indicator is on.
func sourceQuestion(ports []string) job.Question {
	q := job.Question{Key: "gauge.source", Text: "on which line is the cable indicator", Choices: ports}
	if len(ports) == 0 {
		q.Text += "; no serial line is there: plug it in, or name a source, " + gauge.SourceForms()
	}
	return q
}

// pickSource is [gauge.PickSource] of an answer: a serial line that is neither listed nor there is none.
func pickSource(ports []string, text string) (string, error) {
	source, err := gauge.PickSource(ports, text)
	if err != nil {
		return "", err
	}
	device, serial := strings.CutPrefix(source, string(gauge.SerialLine)+":")
	if !serial || slices.Contains(ports, device) || runtime.GOOS == "windows" { // where a line is no file
		return source, nil
	}
	if _, err := os.Stat(device); err != nil {
		return "", fmt.Errorf("%q: no such serial line is there: plug it in, or name another, or %s", device, gauge.SourceForms())
	}
	return source, nil
}

// askSource asks for the source in lines; empty at the end of the input.
func askSource(w world, c *common, in *answers) (string, error) {
	for {
		ports := serialPorts()
		q := sourceQuestion(ports)
		if err := say(w, c, record.Asked(&q)); err != nil {
			return "", err
		}
		typed, more := <-in.in
		if !more || strings.TrimSpace(typed) == "quit" {
			return "", in.err
		}
		source, err := pickSource(ports, typed)
		if err == nil {
			return source, nil
		}
		if err := say(w, c, lines.Refused(typed, err)); err != nil {
			return "", err
		}
	}
}
