package main

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/gauge"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// An indicator that falls asleep, one whose figures no needle could show, and a line of noise are each said once, as seconds go by;
// of a line that is known to be gone nothing is said besides.
func TestGaugeLinesSayOnce(t *testing.T) {
	live := session.NewLive(session.State{}, &session.Memory{})
	job, machine := practice.Carried.Files()
	set := testdata.Setting(t, job, machine)
	if _, err := live.Do(session.Open{Opened: set}, time.Time{}); err != nil {
		t.Fatal(err)
	}
	s := gauge.Usual()
	s.Most = set.Job.Dial.Farthest()
	r, err := gauge.NewReader(s, geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	var out bytes.Buffer
	l := &gaugedLines{feed: &feed{reader: r}, w: world{out: &out, now: func() time.Time { return now }}, c: &common{}, live: live}
	said := func(seconds int, f func() fed) []string {
		t.Helper()
		out.Reset()
		for range seconds * 10 {
			now = now.Add(time.Second / 10)
			x := f()
			x.at = now
			if err := l.hear(x); err != nil {
				t.Fatal(err)
			}
		}
		return strings.Split(strings.TrimSpace(out.String()), "\n")
	}
	sends := func(text string) func() fed { return func() fed { return fed{bytes: []byte(text)} } }
	nothing := func() fed { return fed{} }
	check := func(got []string, want ...string) {
		t.Helper()
		if len(got) != len(want) {
			t.Fatalf("said %q, want %q", got, want)
		}
		for i := range want {
			if !strings.Contains(got[i], want[i]) {
				t.Errorf("said %q, want %q", got[i], want[i])
			}
		}
	}
	check(said(60, sends("0.1\n")), "the needle stands still at +0.1000 mm")
	check(said(60, nothing), "the needle moves", "lost: nothing has come for 3 s; see to plug and cable, and whether the indicator is on")
	check(said(5, sends("-99.9\n")), "a line of the cable indicator is no reading: it sends -99.9 mm, which is off the dial (±",
		"is found")
	check(
		said(4, sends("\x1b0.1\x1b8\n")),
		"a line of the cable indicator is no reading: \"\\x1b0.1\\x1b8\" has bytes in it that are no text",
	)
	if err := l.hear(fed{lost: errors.New("it is unplugged")}); err != nil {
		t.Fatal(err)
	}
	check(said(60, nothing), "49 of the cable indicator's lines are no readings", "39 of the cable indicator's lines are no readings")
	if err := l.hear(fed{found: true, bytes: []byte("\n"), at: now}); err != nil {
		t.Fatal(err)
	}
	check(said(60, nothing), "nothing has come for 3 s")
	check(
		said(60, sends("+0.118;+0.118;")),
		"is found",
		"a line of the cable indicator is no reading: 266 bytes have come without a line's end, "+
			"need CR or LF behind each figure; it is no indicator that sends lines, or its baud rate is another: trammel gauge shows what comes",
	)
	if err := l.hear(fed{bytes: []byte("\n"), at: now}); err != nil {
		t.Fatal(err)
	}
	n := 0
	check(said(30, func() fed {
		n++
		return fed{bytes: fmt.Appendf(nil, "%.3f\n", 0.1+0.015*float64(n%2))}
	}),
		"the cable indicator is restless: it trembles by 0.015 mm and goes nowhere, more than within = 0.01; state within = 0.06")
}

// A needle that has not moved since the station before is refused once, and taken where take is typed once more.
func TestGaugeLinesTakeOfOneThatStands(t *testing.T) {
	live := session.NewLive(session.State{}, &session.Memory{})
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	for _, c := range []session.Command{session.Open{Opened: testdata.Setting(t, practice.BenchJob, practice.BenchMachine)},
		session.Confirm{}, session.Confirm{}, session.Confirm{}} {
		if _, err := live.Do(c, now); err != nil {
			t.Fatal(err)
		}
	}
	r, err := gauge.NewReader(gauge.Usual(), geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	l := &gaugedLines{feed: &feed{name: "fifo:needle", reader: r}, w: world{out: &out, now: func() time.Time { return now }},
		c: &common{}, of: &opened{live: live}, live: live}
	takes := func(want int, says ...string) {
		t.Helper()
		for range 20 {
			now = now.Add(time.Second / 20)
			if err := l.hear(fed{bytes: []byte("0.188\n"), at: now}); err != nil {
				t.Fatal(err)
			}
		}
		out.Reset()
		if err := l.answer("take"); err != nil {
			t.Fatal(err)
		}
		s := live.State()
		if s.Sweep.N != want {
			t.Errorf("%d readings, want %d; said %s", s.Sweep.N, want, out.String())
		}
		for _, w := range says {
			if !strings.Contains(out.String(), w) {
				t.Errorf("said %s, want %q", out.String(), w)
			}
		}
	}
	takes(1)
	takes(1, "the needle has not moved since station 1: was the head swung", "take once more takes it")
	takes(2)
	takes(2, "has not moved since station 2")
	if err := l.answer("setup"); err != nil {
		t.Fatal(err)
	}
	takes(2, "has not moved since station 2")
	takes(3)
}

// In lines a wind that the needle shows is taken as on the screen: past its turning point, and not before; what was not seen from its
// beginning is taken once it is asked for twice.
func TestGaugeLinesTakeOfAWind(t *testing.T) {
	live := session.NewLive(session.State{}, &session.Memory{})
	now := time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	if _, err := live.Do(session.Open{Opened: testdata.Setting(t, practice.BenchJob, practice.BenchMachine)}, now); err != nil {
		t.Fatal(err)
	}
	r, err := gauge.NewReader(gauge.Usual(), geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	l := &gaugedLines{feed: &feed{name: "fifo:needle", reader: r}, w: world{out: &out, now: func() time.Time { return now }},
		c: &common{}, of: &opened{live: live}, live: live}
	wanted := func() (gauge.Wanted, bool) { s := live.State(); return s.Wanted() }
	for range 40 {
		if _, ok := wanted(); ok {
			break
		}
		typed := "done"
		if p := live.Asked(); p.Needle() {
			typed = fmt.Sprintf("%.3f", 0.1*math.Cos(float64(p.Reading.Bearing))-0.05)
		}
		if err := l.answer(typed); err != nil {
			t.Fatal(err)
		}
	}
	w, ok := wanted()
	if !ok || w.Past == nil {
		t.Fatalf("no wind past a turning point is told: %+v; %s", w, out.String())
	}
	shows := func(from, to float64, steps int) {
		t.Helper()
		for i := range steps {
			now = now.Add(time.Second / 20)
			v := from + (to-from)*float64(i+1)/float64(steps)
			if err := l.hear(fed{bytes: fmt.Appendf(nil, "%.4f\n", v), at: now}); err != nil {
				t.Fatal(err)
			}
		}
	}
	takes := func(want string) {
		t.Helper()
		out.Reset()
		if err := l.answer("take"); err != nil || !strings.Contains(out.String(), want) {
			t.Errorf("%v: it says %s, want %q", err, out.String(), want)
		}
	}
	shows(w.Goal, w.Goal, 20)
	takes("the backlash may not be taken up: the needle was not seen where the wind begins")
	shows(w.Start, w.Start, 20)
	takes("the needle was not past the turning point")
	shows(w.Start, w.Goal, 20)
	shows(w.Goal, w.Goal, 20)
	takes("the needle was not past the turning point")
	shows(w.Goal, *w.Past, 20)
	shows(*w.Past, w.Goal-(w.Goal-*w.Past)/4, 20)
	shows(w.Goal-(w.Goal-*w.Past)/4, w.Goal-(w.Goal-*w.Past)/4, 20)
	takes(" short of ")
	shows(w.Goal-(w.Goal-*w.Past)/4, w.Goal, 20)
	shows(w.Goal, w.Goal, 20)
	told := live.State().Told
	if takes("needle at"); live.State().Told == told {
		t.Error("the wind is not taken")
	}
	w, _ = wanted()
	shows(w.Goal, w.Goal, 20)
	takes("the needle was not seen where the wind begins")
	told = live.State().Told
	if takes("needle at"); live.State().Told == told {
		t.Error("what was asked for twice is not taken")
	}
}

// In lines a figure that stands is kept only where that is said, and one whose unit nobody says is not.
func TestGaugeLinesKeepWhatMoves(t *testing.T) {
	try, err := gauge.NewTrying(gauge.Usual(), geom.Millimetre)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	l := &gaugeLines{w: world{out: &out}, c: &common{}, of: &gaugeTrial{}, try: try}
	says := func(typed, want string, kept bool) {
		t.Helper()
		out.Reset()
		if err := l.answer(typed); errors.Is(err, errKept) != kept || err != nil && !kept || !strings.Contains(out.String(), want) {
			t.Errorf("%s: kept %v, %v; said %q, want %q", typed, !kept, err, out.String(), want)
		}
	}
	says("keep", "no figure has come yet, need one that is seen to move", false)
	says("keep it", `"keep it", need keep, or keep unseen`, false)
	try.Add([]byte("0.118\n0.12\n"), time.Time{})
	says("keep unseen", `"0.12" names no unit, need the unit of its figures stated: mm or in`, false)
	says("unit mm", "unit of its figures: mm", false)
	says("keep", "was seen to move by 0.002 mm, need more than 0.03 mm: it may be no needle's", false)
	says("keep", "press the plunger well in, once, and let go; keep unseen writes it all the same", false)
	says("keep unseen", "unit = \"mm\"", true)
	try.Add([]byte("0.2\n"), time.Time{})
	says("keep", "unit = \"mm\"", true)
}

// What is answered for the line has to be listed, or there; other sources are looked at as they are opened.
func TestSerialLineThatIsNone(t *testing.T) {
	there := filepath.Join(t.TempDir(), "line")
	if err := os.WriteFile(there, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for typed, want := range map[string]string{
		"1": "serial:COM7", "COM7": "serial:COM7", there: "serial:" + there, "fifo:/no/such": "fifo:/no/such",
	} {
		if got, err := pickSource([]string{"COM7"}, typed); err != nil || got != want {
			t.Errorf("%q is %q, %v; want %q", typed, got, err, want)
		}
	}
	for _, typed := range []string{"//3", "2", "", "/"} {
		if got, err := pickSource([]string{"COM7"}, typed); err == nil ||
			!strings.Contains(err.Error(), "need the number of a serial line") {
			t.Errorf("%q is %q, %v", typed, got, err)
		}
	}
	if runtime.GOOS == "windows" {
		return // where nothing tells before it is opened
	}
	for _, typed := range []string{there + "x", "serial:" + there + "x"} {
		if got, err := pickSource([]string{"COM7"}, typed); err == nil || !strings.Contains(err.Error(), "no such serial line is there") {
			t.Errorf("%q is %q, %v", typed, got, err)
		}
	}
}
