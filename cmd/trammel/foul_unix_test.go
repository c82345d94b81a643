//go:build unix

package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"example.org/trammel/testdata"
)

// foulName is a text that drives a terminal, without what no file's name may hold.
var foulName = strings.NewReplacer("\x00", "", "/", "").Replace(testdata.Foul)

// foulShop is a shop in which everything has a foul name.
func foulShop(t *testing.T) shop {
	t.Helper()
	s := newShop(t)
	for at, from := range map[string]string{
		"trammel/machines/" + foulName + ".toml": "trammel/machines/mill.toml",
		"trammel/jobs/" + foulName + ".toml":     "trammel/jobs/ring.toml",
		"trammel/" + foulName + ".jsonl":         "trammel/good.jsonl", foulName: "plate.toml", foulName + ".toml": "plate.toml",
	} {
		text, err := os.ReadFile(s.at(from))
		if err = errors.Join(err, os.WriteFile(s.at(at), text, 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	bad := []byte("nonsense\x1b[2J\x00\xff = [\u202e\n")
	if err := errors.Join(os.WriteFile(s.at("trammel/bad"+foulName+".jsonl"), bad, 0o600),
		os.WriteFile(s.at("bad"+foulName+".toml"), bad, 0o600), os.WriteFile(s.at("bad"+foulName+".dxf"), bad, 0o600),
		os.WriteFile(s.at("trammel/machines/bad"+foulName+".toml"), bad, 0o600)); err != nil {
		t.Fatal(err)
	}
	return s
}

// Whatever a file is called and holds, a verb that it is given to, one that comes upon it, and one that cannot find it name it
// harmlessly, on one line.
func TestFoulFiles(t *testing.T) {
	t.Parallel()
	s := foulShop(t)
	journal, drawing, machine, job := s.at("trammel/"+foulName+".jsonl"), s.at(foulName+".toml"), foulName, foulName
	badJournal, badText, badDrawing := s.at("trammel/bad"+foulName+".jsonl"), s.at("bad"+foulName+".toml"), s.at("bad"+foulName+".dxf")
	for _, args := range [][]string{
		{"sessions"}, {"machine"}, {"config"}, {"replay", journal}, {"report", journal}, {"report", "--csv", journal},
		{"report", journal, journal},
		{"report", journal, "-o", "-"}, {"report", journal, "-o", journal}, {"report", "--machine", machine}, {"machine", "show", machine},
		{"machine", "show", badText}, {"machine", "mend", "bad" + foulName}, {"machine", "new", machine}, {"learnt", "--machine", machine},
		{"learnt", "--machine", machine, "--from", journal}, {"plan", drawing, "--cutter", "6"}, {"sheet", drawing, "--cutter", "6"},
		{"sheet", drawing, "--cutter", "6", "-o", "-"}, {"sheet", drawing, "--cutter", "6", "--machine", machine},
		{"blends", drawing, journal, "--cutter", "6"}, {"plan", badText}, {"plan", badDrawing}, {"plan", "--points", badText},
		{"fit", badText},
		{"fit", "--points", badText}, {"replay", badJournal}, {"report", badJournal}, {"note", badJournal, "x"},
		{"note", journal, foulName},
		{"dial", "--lines", "--machine", machine, "--job", job}, {"dial", "--lines", "--resume"},
		{"dial", "--lines", "--resume", "--journal", journal},
		{"dial", "--lines", "--machine", badText, "--job", badText},
		{"dial", "--lines", "--machine", machine, "--drawing", drawing, "--arc", "1"},
		{"man", drawing}, {"gauge", "fifo:" + drawing}, {"gauge", "exec:" + foulName}, {"gauge", foulName}, {"help", foulName}, {foulName},
	} {
		for _, form := range [][]string{nil, {"--json"}} {
			said, code := s.run(append(args, form...)...)
			if code != exitDone && !strings.Contains(said, "trammel: ") || code < exitDone || code > exitUse {
				t.Errorf("trammel %q: ends with %d, saying %q", args, code, said)
			}
		}
	}
}

// Whatever stands behind a flag of a verb, what is complained of it is harmless. Every verb and every flag is walked; every fourth without
// TRAMMEL_TRAPS.
func TestFoulFlags(t *testing.T) {
	s := newShop(t)
	t.Chdir(s.home)
	n, some := 0, 4
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		some = 1
	}
	for _, c := range verbs(newRoot(world{out: io.Discard, err: io.Discard, settings: &settings{}})) {
		verb := strings.Fields(c.CommandPath())[1:]
		try := func(args ...string) {
			if n++; n%some > 0 {
				return
			}
			said, code := s.run(append(append([]string{}, verb...), args...)...)
			if code != exitDone && !strings.Contains(said, "trammel: ") || code < exitDone || code > exitUse {
				t.Errorf("trammel %q %q: ends with %d, saying %q", verb, args, code, said)
			}
		}
		try(foulName)
		try("--" + foulName)
		try("-" + foulName)
		c.LocalFlags().VisitAll(func(f *pflag.Flag) { try("--" + f.Name + "=" + foulName) })
	}
	if n < 100 {
		t.Errorf("only %d flags and verbs", n)
	}
	if left, err := filepath.Glob(s.at(".new-*")); err != nil || len(left) > 0 {
		t.Error(left, err)
	}
}
