package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/testdata"
)

// Whatever text a journal holds, nothing that is said of it, as lines, as JSON, as report, as rows for a spreadsheet or as a page, drives a
// terminal; nor does what is complained of.
func TestNothingSaidDrivesATerminal(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	data := filepath.Join(home, "trammel")
	if err := os.MkdirAll(data, 0o700); err != nil {
		t.Fatal(err)
	}
	all, places := testdata.FoulJournals(t, testdata.Foul)
	if places < 19 {
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
			if bad := testdata.Drives(said); code != exitDone || bad != "" {
				t.Errorf("journal %d: trammel %s: exit %d, %.200s; it says %s", i, strings.Join(args, " "), code, complaints.String(), bad)
			}
		}
	}
}
