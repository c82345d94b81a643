package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.org/trammel/geom/drawing"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// setting asks for what a new setting needs, and begins it.
func (s *start) setting() error {
	machine, err := s.machine()
	if err != nil || machine == "" {
		return err
	}
	file, ok, err := s.job("the job")
	if err != nil || !ok {
		return err
	}
	return dialVerb(s.w, s.c, &dialFlags{machine: machine, job: file, manner: s.m, arcFlags: newArcFlags()})
}

// lastAccepted is the session that was worked on last, where its setting is accepted and nothing of it is left to do; nil for none.
func (s *start) lastAccepted() *record.Journal {
	if len(s.all) == 0 || s.all[0].Wrong != "" || s.all[0].State.Phase != session.Ended || len(s.all[0].State.Set.Files) == 0 {
		return nil
	}
	return &s.all[0]
}

func (s *start) accepted() bool { return s.lastAccepted() != nil }

// nextPart begins a setting in the journal of the one before, by what that was set by: the part is another one, so it is swept anew.
func (s *start) nextPart() error {
	l := s.lastAccepted()
	if l == nil {
		return nil
	}
	return dialVerb(s.w, s.c, &dialFlags{again: l.State.Set, journal: l.Path, manner: s.m, arcFlags: newArcFlags()})
}

// samePart begins the next part on the accepted setting itself, which stands as it was left.
func (s *start) samePart() error {
	l := s.lastAccepted()
	if l == nil {
		return nil
	}
	f := &dialFlags{resume: true, part: partFlag(), journal: l.Path, manner: s.m, arcFlags: newArcFlags()}
	if err := f.part.Set(asDue); err != nil {
		return err
	}
	return dialVerb(s.w, s.c, f)
}

// arcs asks for a drawing, and shows its arcs.
func (s *start) arcs() error {
	machine, err := s.machine()
	if err != nil || machine == "" {
		return err
	}
	drawn, err := s.drawing()
	if err != nil || drawn == "" {
		return err
	}
	file, ok, err := s.job("how the arcs are set")
	if err != nil || !ok {
		return err
	}
	f := &dialFlags{machine: machine, job: file, manner: s.m, arcFlags: newArcFlags()}
	f.drawing = drawn
	return dialVerb(s.w, s.c, f)
}

// machine asks which machine: none where one alone is known, or the settings name one; a new one first where there is none. Empty where
// the person goes back.
func (s *start) machine() (string, error) {
	_, names, err := knownMachines(s.w)
	if err != nil {
		return "", err
	}
	named := s.w.orMachine("")
	switch {
	case len(names) == 0 && named == "":
		return s.newMachine("first the machine, for none is known yet")
	case len(names) == 0, len(names) == 1 && named == "":
		return named + strings.Join(names, ""), nil
	}
	if i := slices.Index(names, named); i > 0 {
		names = append([]string{named}, slices.Delete(names, i, i+1)...)
	} else if i < 0 && named != "" {
		names = append([]string{named}, names...)
	}
	n, _, err := s.pick("on which machine", names[0], append(names, "a new machine"), false)
	switch {
	case err != nil || n == 0:
		return "", err
	case n > len(names):
		return s.newMachine("a new machine")
	}
	return names[n-1], nil
}

func (s *start) newMachine(title string) (string, error) {
	return machineNewVerb(s.w, s.c, &askFlags{title: title, manner: s.m}, "")
}

// job asks by which job: one that is kept, one in the folder that the program was started in, or by questions, which an empty file
// stands for. The one of the setting before is the first, else the questions. ok is false where the person goes back.
func (s *start) job(title string) (file string, ok bool, err error) {
	files := s.jobs()
	if len(files) == 0 {
		return "", true, nil
	}
	const questions = "" // among the files
	at := 0
	if i := s.usedLast(files); i >= 0 {
		files[0], files[i] = files[i], files[0]
		at = 1
	}
	files = slices.Insert(files, at, questions)
	var words []string
	for _, f := range files {
		if f == questions {
			words = append(words, "by questions, one after the other")
			continue
		}
		words = append(words, s.name(f))
	}
	n, _, err := s.pick(title, [...]string{"questions", words[0]}[at], words, false)
	if err != nil || n == 0 {
		return "", false, err
	}
	return files[n-1], true, nil
}

// usedLast is which of some jobs the setting before was made by, by its name or by what it holds, for one may have been kept with the
// questions that led to it; -1 for none.
func (s *start) usedLast(files []string) int {
	_, all, err := allSessions(s.w)
	if err != nil || len(all) == 0 || all[0].State.Set == nil || len(all[0].State.Set.Files) == 0 {
		return -1
	}
	was := all[0].State.Set.Files[0]
	return slices.IndexFunc(files, func(file string) bool {
		text, err := readKept(file)
		return file == was.Name || err == nil && digest(file, text).SHA256 == was.SHA256
	})
}

// jobs are the files of the jobs that are kept, and of those in the folder that the program was started in.
func (s *start) jobs() (out []string) {
	var folders []string
	if folder, err := configFolder(s.w); err == nil {
		folders = append(folders, filepath.Join(folder, "jobs"))
	}
	if here, err := os.Getwd(); err == nil {
		folders = append(folders, here)
	}
	for _, file := range filesIn(folders, ofMachine) {
		if text, err := readKept(file); err == nil {
			if _, err := job.ReadJob(file, text); err == nil {
				out = append(out, file)
			}
		}
	}
	return out
}

// drawing asks for a drawing: those in the folder that the program was started in, and where the last one lay, or a name that is
// typed. Empty where the person goes back.
func (s *start) drawing() (string, error) {
	var words []string
	files := s.drawings()
	for _, f := range files {
		words = append(words, s.name(f))
	}
	title := "which drawing; or type the name of its file"
	if len(files) == 0 {
		title = "no drawing is in this folder, .dxf or .toml: type the name of its file"
		words = []string{"back"}
	}
	for {
		n, name, err := s.pick(title, words[0], words, true)
		if err != nil || n > len(files) || n == 0 && name == "" {
			return "", err
		}
		if n > 0 {
			return files[n-1], nil
		}
		if name, err = placed(name, ""); err == nil {
			if err = isDrawing(name); err == nil {
				return filepath.Abs(name)
			}
		}
		s.said.Reset()
		s.wrong = true
		tellErrors(s.w, drawingError(name, err))
	}
}

// drawings are the files that hold one.
func (s *start) drawings() (out []string) {
	var folders []string
	if here, err := os.Getwd(); err == nil {
		folders = append(folders, here)
	}
	if _, all, err := allSessions(s.w); err == nil {
		if last := lastDrawing(all); last != "" && !slices.Contains(folders, filepath.Dir(last)) {
			folders = append(folders, filepath.Dir(last))
		}
	}
	for _, file := range filesIn(folders, ".dxf", ".toml") {
		if isDrawing(file) == nil {
			out = append(out, file)
		}
	}
	return out
}

// lastDrawing is the file of the drawing whose arcs were set last, where its journal says where it lay.
func lastDrawing(all []record.Journal) string {
	for i := range all {
		if set := all[i].State.Set; set != nil && set.Arc != nil && len(set.Files) > 2 && filepath.IsAbs(set.Files[2].Name) {
			return set.Files[2].Name
		}
	}
	return ""
}

// isDrawing reports what keeps a file from being read as a drawing.
func isDrawing(file string) error {
	text, err := readPlain(file, drawing.MaxBytes)
	if err != nil {
		return err
	}
	f := newPlanFlags()
	_, err = f.outline(&common{}, file, text)
	return err
}

// filesIn are the files in some folders with one of some endings, folder by folder in their order.
func filesIn(folders []string, endings ...string) (out []string) {
	for _, folder := range folders {
		entries, err := os.ReadDir(folder)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			continue // what cannot be read offers nothing; a name can be typed
		}
		for _, e := range entries {
			if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") && slices.Contains(endings, strings.ToLower(filepath.Ext(e.Name()))) {
				out = append(out, filepath.Join(folder, e.Name()))
			}
		}
	}
	return out
}

// name is how a file is called in a list: without its folder where that is the one that the program was started in.
func (s *start) name(file string) string {
	if here, err := os.Getwd(); err == nil && filepath.Dir(file) == here {
		return filepath.Base(file)
	}
	if folder, err := configFolder(s.w); err == nil && filepath.Dir(filepath.Dir(file)) == folder {
		return strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	}
	return file
}
