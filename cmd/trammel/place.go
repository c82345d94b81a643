package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"unicode"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/setup"
)

// dataFolder is where journals go without --journal: the XDG base directory for data, which
// platforms without one have a customary place for.
func dataFolder(w world) (string, error) {
	if folder, ok := w.settings.text("journals"); ok {
		return folder, nil
	}
	folder, err := userFolder(w, "XDG_DATA_HOME", "LOCALAPPDATA", filepath.Join(".local", "share"))
	if err != nil {
		return "", withHint(fmt.Errorf("no place for the journal: %w", err), "name one with --journal FILE")
	}
	return folder, nil
}

// userFolder is the program's own folder in a base directory: the one that a variable names, on Windows another variable, else
// below the person's home.
func userFolder(w world, xdg, windows, home string) (string, error) {
	base := w.getenv(xdg)
	if !filepath.IsAbs(base) { // the specification says that a relative one is to be ignored
		base = ""
	}
	if base == "" && runtime.GOOS == "windows" {
		base = w.getenv(windows)
	}
	if base == "" {
		at, err := os.UserHomeDir()
		if err != nil {
			return "", err
		}
		base = filepath.Join(at, home)
	}
	return filepath.Join(base, "trammel"), nil
}

// targetName is the swing radius a job is for, as a part of a file name: "-42.5mm", or "-centre".
func targetName(j *setup.Job) string {
	if !j.Target.WantsSwing() {
		return "-centre"
	}
	return "-" + strconv.FormatFloat(math.Round(1e4*j.Unit.From(j.Target.SwingRadius))/1e4, 'f', -1, 64) + j.Unit.String()
}

// newJournal makes a journal under a readable name: when, which job, and its target.
func newJournal(w world, jobFile, target string) (*journal.Journal, string, error) {
	folder, err := dataFolder(w)
	if err != nil {
		return nil, "", err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, "", withHint(fmt.Errorf("no place for the journal: %w", err), "name one with --journal FILE")
	}
	stem := w.now().Format("2006-01-02-1504-") + plainName(strings.TrimSuffix(filepath.Base(jobFile), filepath.Ext(jobFile))) + target
	for i := 1; i < 1000; i++ {
		name := stem + ".jsonl"
		if i > 1 {
			name = fmt.Sprintf("%s-%d.jsonl", stem, i)
		}
		path := filepath.Join(folder, name)
		j, err := journal.Create(path)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		return j, path, err
	}
	return nil, "", withHint(fmt.Errorf("%s is full of journals named %s", folder, stem), "name one with --journal FILE")
}

// quoted is a file name as it is typed into a shell.
func quoted(name string) string {
	plain := func(r rune) bool {
		return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("/\\:._-+", r)
	}
	if name != "" && !strings.ContainsFunc(name, func(r rune) bool { return !plain(r) }) {
		return name
	}
	return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}

// plainName keeps letters and digits, so that a name can be typed anywhere.
func plainName(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return r
		}
		return '-'
	}, s)
	if s = strings.Trim(s, "-"); s == "" {
		return "session"
	}
	return s
}
