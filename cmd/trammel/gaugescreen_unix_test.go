//go:build unix

package main

import (
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"example.org/trammel/indicator/journal"
	"example.org/trammel/indicator/session"
)

// gaugedOn opens the practice bench's job on a screen beside a cable indicator of which more is stated, and loads the slides.
func gaugedOn(t testing.TB, home, stated, spec string, columns, rows int) (x *terminal, file string) {
	t.Helper()
	if err := copyBench(home); err != nil {
		t.Fatal(err)
	}
	machine := filepath.Join(home, benchFiles[1])
	text, err := os.ReadFile(machine)
	if err == nil {
		err = os.WriteFile(machine, append(text, "\n[gauge]\n"+stated...), 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
	cmd := program(t, home, "dial", "--steps=false", "--job", benchFiles[0], "--machine", benchFiles[1], "--journal", "j.jsonl",
		"--gauge", spec)
	cmd.Args[0] = quickly
	x = on(t, cmd, columns, rows)
	x.shows("Enter goes on")
	x.answers("\r")
	for i := range 3 {
		x.shows([]string{"backlash: 1 of 3", "backlash: 2 of 3", "backlash: 3 of 3"}[i])
		x.answers("\r")
	}
	x.shows("station 1 of 6")
	return x, filepath.Join(home, "j.jsonl")
}

// tookIn are the readings that a journal holds.
func tookIn(t testing.TB, file string) (took []session.Took) {
	t.Helper()
	j, err := journal.Read(file)
	if err != nil || j.Err() != nil {
		t.Fatal(err, j.Err())
	}
	for i, line := range j.Lines {
		r, err := session.Decode(i+1, line)
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := r.Event.(session.Took); ok {
			took = append(took, e)
		}
	}
	return took
}

// takesStill has the needle stand still at a figure, and takes it by Enter.
func (x *terminal) takesStill(c *cable, station int, v float64) {
	x.t.Helper()
	c.shows(v)
	x.shows(asListed(v)+" mm  ✓ still", "take needle")
	x.answers("\r")
	x.stands(station, asListed(v))
}

// A thousand lines a second over a serial line beside a screen: see TestGaugeOnASerialLine, whose story this is.
func TestScreenOnASerialLine(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	c := &cable{t: t, name: filepath.Join(home, "line")}
	c.plug()
	x, file := gaugedOn(t, home, "stable = 12\nwithin = 0.004\nbaud = 115200\n", "serial:"+c.name, 80, 24)
	x.takesStill(c, 1, 0.118)
	x.takesStill(c, 2, 0.121)
	x.types("0.117\r")
	x.stands(3, "+0.117")
	c.pull()
	x.shows("✗ lost")
	x.answers("\r")
	x.shows("is lost: ", "type the reading")
	x.types("0.116\r")
	x.stands(4, "+0.116")
	c.plug()
	x.takesStill(c, 5, 0.119)
	x.types("q")
	x.ends(exitDone)
	want := []string{"0.118 of 12 serial", "0.121 of 12 serial", "0.117 of 0 ", "0.116 of 0 ", "0.119 of 12 serial"}
	if got := figures(tookIn(t, file)); !reflect.DeepEqual(got, want) {
		t.Errorf("on record are %q, want %q", got, want)
	}
}
