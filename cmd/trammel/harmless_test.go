package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// driving is a text that drives a terminal: controls of ASCII and of the C1 set (ECMA-48, 5.2 and 5.3), marks that turn the writing
// (Unicode Standard Annex 9), line ends of other kinds, and what no text may hold.
const driving = "x\x1b[2J\u009b1m\x00\x07\r\u202e\u2028\u0085\ufeffy"

// textsOf calls each for every text in a value of JSON, with where it stands, and how to put another in its place.
func textsOf(at string, v any, put func(any), each func(at string, put func(any), was string)) {
	switch v := v.(type) {
	case string:
		each(at, put, v)
	case []any:
		for i := range v {
			textsOf(at+"[]", v[i], func(x any) { v[i] = x }, each)
		}
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			textsOf(at+"."+k, v[k], func(x any) { v[k] = x }, each)
		}
	}
}

// slideName is where a machine's slides are named: the lines behind go by it, so that it is spoilt alone.
const slideName = "opened.machine.slides[].name"

// spoiltJournals are journals of old in which every text that may be another drives a terminal, and how many places those are.
func spoiltJournals(t *testing.T) (out [][][]byte, places int) {
	t.Helper()
	files, err := filepath.Glob("../../testdata/journal/*.jsonl")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, name := range files {
		got, err := journal.Read(name)
		if err != nil || got.Err() != nil {
			t.Fatal(err, got.Err())
		}
		var r session.Reading
		var all [][]byte
		news := len(seen)
		for i, line := range got.Lines {
			if i == 0 && !seen[slideName] {
				out = append(out, [][]byte{spoiltLine(t, r, line, func(at string) bool { return at == slideName }, seen)})
				news = len(seen)
			}
			line = spoiltLine(t, r, line, func(at string) bool { return at != slideName }, seen)
			if _, err := r.Next(line); err != nil {
				t.Fatal(name, err)
			}
			all = append(all, line)
		}
		if len(seen) > news {
			out = append(out, all)
		}
	}
	return out, len(seen)
}

// spoiltLine is a journal's next line with every text spoilt that may be, and was not seen to be before.
func spoiltLine(t *testing.T, r session.Reading, line []byte, may func(at string) bool, seen map[string]bool) []byte {
	t.Helper()
	var e map[string]any
	if err := json.Unmarshal(line, &e); err != nil {
		t.Fatal(err)
	}
	kind := fmt.Sprint(e["k"])
	textsOf(kind, e["d"], nil, func(at string, put func(any), was string) {
		if !may(at) || seen[at] && kind != "opened" {
			return
		}
		put(driving)
		bad, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		tried := r
		if _, err := tried.Next(bad); err != nil {
			put(was)
			return
		}
		seen[at], line = true, bad
	})
	return line
}

// drives is the first character of a text that could drive a terminal, with what stands around it; empty for none.
func drives(text string) string {
	if !utf8.ValidString(text) {
		return "bytes that are no text"
	}
	for i, r := range text {
		if !geom.Prints(r) && r != '\n' {
			return fmt.Sprintf("%q", text[max(0, i-40):min(len(text), i+20)])
		}
	}
	return ""
}

// Whatever text a journal holds, nothing that is said of it, as lines, as JSON, as report, as rows for a spreadsheet or as a page, drives a
// terminal; nor does what is complained of.
func TestNothingSaidDrivesATerminal(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	data := filepath.Join(home, "trammel")
	if err := os.MkdirAll(data, 0o700); err != nil {
		t.Fatal(err)
	}
	all, places := spoiltJournals(t)
	if places < 20 {
		t.Errorf("only %d places of the journals hold a text", places)
	}
	getenv := func(key string) string { return map[string]string{"XDG_DATA_HOME": home, "XDG_CONFIG_HOME": home}[key] }
	path, page := filepath.Join(data, "spoilt.jsonl"), filepath.Join(home, "page.html")
	for i, lines := range all {
		_ = os.Remove(path)
		j, err := journal.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range lines {
			if err := j.Append(line); err != nil {
				t.Fatal(err)
			}
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		for _, args := range [][]string{{"replay", path}, {"replay", "--json", path}, {"report", path}, {"report", "--csv", path},
			{"report", "-o", page, path}, {"report", path, path}, {"sessions"}, {"sessions", "--json"}} {
			var out, complaints bytes.Buffer
			code := run(args, world{in: strings.NewReader(""), out: &out, err: &complaints, now: time.Now, getenv: getenv})
			said := out.String() + complaints.String()
			if slices.Contains(args, "-o") {
				text, err := os.ReadFile(page)
				if err != nil {
					t.Fatal(err)
				}
				said += string(text)
			}
			if bad := drives(strings.ReplaceAll(said, "\r\n", "\n")); code != exitDone || bad != "" {
				t.Errorf("journal %d: trammel %s: exit %d, %.200s; it says %s", i, strings.Join(args, " "), code, complaints.String(), bad)
			}
		}
	}
}
