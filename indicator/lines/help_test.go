package lines_test

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/testdata"
)

// wantGolden holds JSON lines to a golden file.
func wantGolden(t *testing.T, name string, got []byte) {
	t.Helper()
	testdata.WantGoldenLines(t, filepath.Join("..", "..", "testdata", "lines", name), string(got))
}

// wantGoldenText holds text, which shows no digit that may differ, to a golden file.
func wantGoldenText(t *testing.T, name string, got []byte) {
	t.Helper()
	testdata.WantGolden(t, filepath.Join("..", "..", "testdata", "lines", name), string(got))
}

func decoded(t testing.TB, line []byte) (v any) {
	t.Helper()
	if err := json.Unmarshal(line, &v); err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	return v
}

func encode(t testing.TB, l lines.Line) []byte {
	t.Helper()
	b, err := json.Marshal(l)
	if err != nil {
		t.Fatalf("%T: %v", l, err)
	}
	return b
}

// bench is the setting of the practice bench, changed.
func bench(t testing.TB, change func(*session.Opened)) session.Opened {
	t.Helper()
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	if change != nil {
		change(&o)
	}
	return o
}

// play plays a seed of the bench through, and returns every step and the journal.
func play(t testing.TB, seed uint64, o session.Opened) ([]session.Step, [][]byte) {
	t.Helper()
	now := time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)
	var mem session.Memory
	l := session.NewLive(session.State{}, &mem)
	steps, err := l.Do(session.Open{Opened: o}, now)
	if err != nil {
		t.Fatal(err)
	}
	clock := func() time.Time { now = now.Add(20 * time.Second); return now }
	if err := practice.New(practice.Bench(seed), seed).Play(l, clock, func(st session.Step) { steps = append(steps, st) }); err != nil {
		t.Fatal(err)
	}
	return steps, mem.Lines
}

// replay returns the steps of a golden journal.
func replay(t testing.TB, name string) (steps []session.Step) {
	t.Helper()
	var s session.State
	for _, r := range testdata.Records(t, name) {
		st := session.Step{Before: s, Event: r.Event, After: s.Apply(r.Event)}
		s, steps = st.After, append(steps, st)
	}
	return steps
}

// say collects what is said of steps.
func say(steps []session.Step, u geom.Unit) (all []lines.Line) {
	for _, st := range steps {
		all = append(all, lines.Of(st, u)...)
	}
	return all
}

// saying drives a session command by command.
type saying struct {
	t    testing.TB
	live *session.Live
	said []lines.Line
}

func begin(t testing.TB, o session.Opened) *saying {
	t.Helper()
	s := &saying{t: t, live: session.NewLive(session.State{}, &session.Memory{})}
	s.do(session.Open{Opened: o})
	return s
}

// do carries out commands and keeps what the last of them said.
func (s *saying) do(commands ...session.Command) *saying {
	s.t.Helper()
	for _, c := range commands {
		steps, err := s.live.Do(c, time.Time{})
		if err != nil {
			s.t.Fatalf("%T: %v", c, err)
		}
		s.said = say(steps, geom.Millimetre)
	}
	return s
}

// read takes readings until the sweep is closed, and keeps what the last of them said.
func (s *saying) read(readings ...float64) *saying {
	s.t.Helper()
	for _, r := range readings {
		if st := s.live.State(); st.Phase != session.Sweeping {
			break
		}
		s.do(session.Take{Reading: r})
	}
	return s
}

// loaded confirms that every slide is loaded.
func (s *saying) loaded() *saying {
	s.t.Helper()
	for st := s.live.State(); st.Phase == session.Loading; st = s.live.State() {
		s.do(session.Confirm{})
	}
	return s
}

// kinds names what was said last, in order.
func (s *saying) kinds() string {
	var out []string
	for _, l := range s.said {
		out = append(out, fmt.Sprint(decoded(s.t, encode(s.t, l)).(map[string]any)["say"]))
	}
	return strings.Join(out, " ")
}
