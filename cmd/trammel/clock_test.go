package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/trammel/indicator/record"
)

// clockStands are the times, days and stretches of time that a report or a list tells.
var clockStands = regexp.MustCompile(`\d{4}-\d\d-\d\d([T ]\d\d:\d\d(:\d\d)?( UTC|Z)?)?|\d\d:\d\d:\d\d`)

// A clock that is put back by an hour and a half in the middle of a session, and then by a day behind it, refuses nothing and loses
// nothing: the same is said, asked and accepted as by a clock that goes, the journal holds each time as it was and is read, and of two
// accepted settings the one that stands behind the other counts as the newer.
func TestClockThatIsPutBack(t *testing.T) {
	t.Parallel()
	readings := "done\ndone\ndone\n0.08\n0.14\n0.26\n0.32\n0.26\n0.14\n0.2\ndone\n0\n0\n0\n0\n0\naccept\n"
	var told [2][]string
	for i, back := range []bool{false, true} {
		home := t.TempDir()
		if err := copyBench(home); err != nil {
			t.Fatal(err)
		}
		in := func(name string) string { return filepath.Join(home, name) }
		looks := 0
		begun := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
		now := func() time.Time {
			looks++
			at := begun.Add(time.Duration(looks) * 20 * time.Second)
			if back && looks > 12 {
				at = at.Add(-90 * time.Minute)
			}
			return at
		}
		do := func(said string, args ...string) {
			t.Helper()
			var out, complaints bytes.Buffer
			w := world{in: strings.NewReader(said), out: &out, err: &complaints, getenv: homeAt(home), now: now}
			if code := run(args, w); code != exitDone {
				t.Fatalf("the clock put back %v: trammel %q ends with %d: %s%s", back, args, code, out.String(), complaints.String())
			}
			text := strings.ReplaceAll(out.String()+complaints.String(), home, "HOME")
			told[i] = append(told[i], clockStands.ReplaceAllString(text, "TIME"))
		}
		j := in("j.jsonl")
		dial := []string{"dial", "--lines", "--json", "--steps=false", "--job", in(benchFiles[0]), "--machine", in(benchFiles[1]),
			"--journal", j}
		do(readings, dial...)
		if begun = begun.AddDate(0, 0, -1); !back {
			begun = begun.AddDate(0, 0, 2)
		}
		do(readings, dial...)
		do("", "report", j)
		do("", "report", "--csv", j)
		do("", "replay", "--lines", j)

		l := look(j)
		if l.Wrong != "" || len(l.Accepted) != 2 || l.Accepted[1].At.Before(l.Accepted[0].At) {
			t.Errorf("the clock put back %v: %d settings accepted, %+v (%s); want two, the second not before the first", back,
				len(l.Accepted), times(l.Accepted), l.Wrong)
		}
		if earlier := timesGoBack(t, j); (earlier > 1) != back {
			t.Errorf("the clock put back %v: %d times in the journal lie before the one they come behind", back, earlier)
		}
	}
	for n := range told[0] {
		if told[0][n] != told[1][n] {
			t.Errorf("with the clock put back it says\n%s\nwant\n%s", told[1][n], told[0][n])
		}
	}
}

func times(all []record.Accepted) (at []time.Time) {
	for _, a := range all {
		at = append(at, a.At)
	}
	return at
}

// timesGoBack counts the times of a journal that lie before the one that they come behind.
func timesGoBack(t *testing.T, path string) (n int) {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	all := regexp.MustCompile(`"t":"([^"]*)"`).FindAllStringSubmatch(string(text), -1)
	for i := 1; i < len(all); i++ {
		if all[i][1] < all[i-1][1] {
			n++
		}
	}
	return n
}
