package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/toml"
	"example.org/trammel/indicator/job"
)

// atHand are the rings, plugs and cutters that the settings name, by their keys, in millimetres; a key that nobody has said is not there.
func atHand(w world) map[string][]float64 {
	out := map[string][]float64{}
	for _, key := range []string{job.Rings, job.Plugs, job.Cutters} {
		if text, ok := w.settings.text(key); ok {
			out[key] = []float64{}
			all, u := lengthsOf(text)
			for _, d := range all {
				out[key] = append(out[key], u.MM(d))
			}
		}
	}
	return out
}

// keepHand keeps the rings, plugs and cutters that were answered in the settings' file, so that nobody is asked for them again. That they
// cannot be kept does the session no harm.
func keepHand(w world, q job.Asking) {
	for _, key := range []string{job.Rings, job.Plugs, job.Cutters} {
		mm, said := q.HandSaid(key)
		if !said || w.settings == nil {
			continue
		}
		line, text, err := keepLengths(w.settings.file, key, mm)
		if err != nil {
			fmt.Fprintf(w.err, "trammel: %s are not kept: %s\n", key, printable(err.Error()))
			continue
		}
		w.settings.all[key] = found{text, w.settings.file}
		fmt.Fprintf(w.err, "trammel: %s is kept in %s\n", line, printable(w.settings.file))
	}
}

// keepLengths puts lengths, in millimetres, into a settings' file that says nothing of them; all else in it stays byte for byte. It
// returns the line that is written, and what it says with its unit.
func keepLengths(name, key string, mm []float64) (line, said string, err error) {
	if name == "" {
		return "", "", errors.New("no place for settings")
	}
	name, err = writable(name)
	if err != nil {
		return "", "", err
	}
	text, err := readKept(name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", "", err
	}
	var raw map[string]any
	if wrong, _, _ := toml.Decode(unmarked(text), &raw); len(wrong) > 0 || raw[key] != nil {
		return "", "", fmt.Errorf("%s has changed meanwhile", name)
	}
	var unit geom.Unit
	if v, ok := raw["unit"].(string); ok {
		if unit, err = geom.ParseUnit(v); err != nil {
			return "", "", err
		}
	}
	var all []string
	for _, v := range mm {
		own, _ := strconv.ParseFloat(strconv.FormatFloat(unit.From(v), 'f', 6, 64), 64)
		all = append(all, strconv.FormatFloat(own, 'f', -1, 64))
	}
	line = key + " = [" + strings.Join(all, ", ") + "]"
	text = slices.Clone(text)
	if len(text) > 0 && !bytes.HasSuffix(text, []byte("\n")) {
		text = append(text, '\n')
	}
	if text = append(text, line+"\n"...); len(text) > mostKept {
		return "", "", fmt.Errorf("%s would be of %d bytes with them, need at most %d", name, len(text), mostKept)
	}
	return line, strings.Join(append(all, unit.String()), " "), replaceSame(name, text)
}

// writable is the file itself where the name is a link to it. A link to nothing stays, and so does a file that may not be written to:
// another could be put in its place, which is not what its owner has said.
func writable(name string) (string, error) {
	info, err := os.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return name, nil
	}
	if err == nil && info.Mode().Type() == fs.ModeSymlink {
		if name, err = filepath.EvalSymlinks(name); err == nil {
			info, err = os.Stat(name)
		}
		if errors.Is(err, fs.ErrNotExist) {
			return "", errors.New("the settings' file is a link to one that is not there")
		}
	}
	if err != nil {
		return "", err
	}
	if !info.Mode().IsRegular() {
		return "", fmt.Errorf("%s: no regular file", name)
	}
	if info.Mode().Perm()&0o222 == 0 {
		return "", fmt.Errorf("%s is read-only", name)
	}
	f, err := os.OpenFile(name, os.O_WRONLY, 0) // it may be somebody else's
	if err != nil {
		return "", err
	}
	return name, f.Close()
}

// unmarked is a text without the byte order mark that some editors put before it.
func unmarked(text []byte) []byte { return bytes.TrimPrefix(text, []byte("\ufeff")) }
