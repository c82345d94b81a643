package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.org/trammel/indicator/record"
)

// recorded reports whether there is a session to see again.
func (s *start) recorded() bool { return len(s.all) > 0 }

// again asks which session, and shows it again, or writes its report.
func (s *start) again() error {
	_, all, err := allSessions(s.w)
	if err != nil {
		return err
	}
	var words []string
	for i := range all {
		words = append(words, s.recalled(&all[i]))
	}
	n, _, err := s.pick("which session", "the last", words, false)
	if err != nil || n == 0 {
		return err
	}
	path := all[n-1].Path
	n, _, err = s.pick(all[n-1].Name, "replay", []string{"see it again, event by event", "write its report, a page for a browser"}, false)
	switch {
	case err != nil || n == 0:
		return err
	case n == 1:
		return replayVerb(s.w, s.c, &replayFlags{to: eventNumber(), manner: s.m}, path)
	}
	return s.report(path)
}

// recalled says of a session what it reached, and when.
func (s *start) recalled(l *record.Journal) string {
	switch {
	case l.Wrong != "":
		return l.Name + ": " + l.Wrong
	case l.State.Set == nil:
		return l.Name + ": empty"
	}
	far := record.StandsWords(&l.State)
	if n := len(l.Accepted); n > 0 && l.State.Accepted() {
		far = record.AcceptedWords(&l.State)
	}
	return fmt.Sprintf("%s on %s: %s; last entry %s, %s", setWords(l.State.Set), l.State.Set.Machine.Name, far, s.day(l), l.Name)
}

// report writes a session's report into the folder that the program was started in, or else beside its journal; never over another
// file.
func (s *start) report(path string) error {
	file, err := s.freeFile(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)), filepath.Dir(path))
	if err != nil {
		return err
	}
	if err := reportVerb(s.w, s.c, &reportFlags{out: file}, []string{path}); err != nil {
		return errors.Join(err, os.Remove(file))
	}
	fmt.Fprintf(s.w.out, "the report is %s\n", printable(file))
	return nil
}

// freeFile makes an empty file that was not there, so that nobody else takes its name.
func (s *start) freeFile(stem, or string) (string, error) {
	folders := []string{or}
	if here, err := os.Getwd(); err == nil {
		folders = []string{here, or}
	}
	var last error
	for _, folder := range folders {
		for i := 1; i < 1000; i++ {
			name := stem + ".html"
			if i > 1 {
				name = fmt.Sprintf("%s-%d.html", stem, i)
			}
			f, err := os.OpenFile(filepath.Join(folder, name), os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if err == nil {
				return f.Name(), f.Close()
			}
			if last = err; !errors.Is(err, fs.ErrExist) {
				break
			}
		}
	}
	return "", last
}

// machineRows are the lines of the page of machines.
var machineRows = []startRow{
	{words: "what is stated of a machine", takes: "stated", when: (*start).knows, do: (*start).showMachine},
	{words: "a new machine, by questions", takes: "new machine", do: func(s *start) error {
		_, err := s.newMachine("a new machine")
		return err
	}},
	{words: "the needle test: a slide's sense, travel and backlash found at the machine", takes: "needle test", when: (*start).knows,
		do: (*start).testMachine},
	{
		words: "a cable indicator: what it sends, and what that means",
		takes: "cable indicator",
		when:  (*start).knows,
		do:    (*start).setUpGauge,
	},
	{words: "mend a machine's file that cannot be read", takes: "mend", when: (*start).broken, do: (*start).mendMachine},
}

func (s *start) knows() bool {
	_, names, err := knownMachines(s.w)
	return err == nil && len(names) > 0
}

// machines is the page of machines.
func (s *start) machines() error {
	return s.menu("machines", "back", func() (out []startRow, err error) {
		for _, r := range machineRows {
			if r.when == nil || r.when(s) {
				out = append(out, r)
			}
		}
		return out, nil
	})
}

// ofMachines asks which of some machines, where there are several, and does something with it.
func (s *start) ofMachines(names []string, do func(name string) error) error {
	n := 1
	if len(names) > 1 {
		var err error
		if n, _, err = s.pick("which machine", names[0], names, false); err != nil || n == 0 {
			return err
		}
	}
	return do(names[n-1])
}

// showMachine tells of a machine.
func (s *start) showMachine() error {
	_, names, err := knownMachines(s.w)
	if err != nil {
		return err
	}
	return s.ofMachines(names, func(name string) error { return machineShowVerb(s.w, s.c, name) })
}

// setUpGauge sets a machine's cable indicator up.
func (s *start) setUpGauge() error {
	_, names, err := knownMachines(s.w)
	if err != nil {
		return err
	}
	return s.ofMachines(names, func(name string) error { return gaugeVerb(s.w, s.c, &gaugeFlags{machine: name, manner: s.m}, "") })
}

// testMachine tests slides of a machine by the needle.
func (s *start) testMachine() error {
	_, names, err := knownMachines(s.w)
	if err != nil {
		return err
	}
	return s.ofMachines(names, func(name string) error { return machineTestVerb(s.w, s.c, &askFlags{manner: s.m}, name) })
}

// spoilt are the machines whose files cannot be read.
func (s *start) spoilt() (out []string) {
	folder, names, _ := knownMachines(s.w) // a folder that cannot be read is refused where it is used
	for _, name := range names {
		if _, _, err := readMachine(filepath.Join(folder, name+ofMachine)); err != nil {
			out = append(out, name)
		}
	}
	return out
}

func (s *start) broken() bool { return len(s.spoilt()) > 0 }

func (s *start) mendMachine() error {
	return s.ofMachines(s.spoilt(), func(name string) error { return machineMendVerb(s.w, s.c, &askFlags{manner: s.m}, name) })
}
