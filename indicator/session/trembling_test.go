package session_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// byCable are hands that type nothing which the needle shows: it comes from a cable indicator, whose samples spread by so much.
type byCable struct {
	hands
	spread float64
}

func (b byCable) Do(q session.Prompt) (session.Command, bool, error) {
	c, ok, err := b.hands.Do(q)
	if take, is := c.(session.Take); is && q.Needle() {
		take.Gauge = session.Gauged{Source: "serial:/dev/ttyS1", Samples: 10, Spread: b.spread}
		c = take
	}
	return c, ok, err
}

// cabled plays a setting by a cable indicator whose needle trembles by more than is stated: stations, a number at a wind that is the next
// station's, taken back once, winds under the needle, the head's lock; and one where nothing is stated.
func cabled(t testing.TB) *player {
	t.Helper()
	o := with(t, func(j *setup.Job) { j.Sweep.Stations = 6 })
	o.Machine.HeadLock = true
	w := near42(0.05, 0.3, -0.2)
	p := open(t, o, byCable{w, 0.0047}).until(session.ForWind)
	sixth := session.Take{Reading: w.reading(p.state().Set.Job.Sweep.Bearing(5)),
		Gauge: session.Gauged{Source: "serial:/dev/ttyS1", Samples: 10, Spread: 0.0047}}
	p.do(sixth, session.NextStation{}, session.Undo{}, sixth, session.NextStation{})
	p.until(session.ForNothing)
	p.hands = byCable{practice.New(practice.Bench(3), 3), 0.0042}
	p.do(session.Open{Opened: with(t, func(j *setup.Job) { j.Dial.Repeatability, j.Sweep.AtLeast = 0, 5 })})
	return p.until(session.ForNothing)
}

// The needle's trembling is the least that a reading's doubt can be where nobody has stated one: readings without any scatter at all
// have it, and their degrees of freedom stay what they were. Where a repeatability is stated that stands.
func TestTremblingIsTheLeast(t *testing.T) {
	const spread = 0.0021
	spreads := func(stated, spread float64) (sigma, dof float64, trembles bool) {
		o := with(t, func(j *setup.Job) { j.Dial.Repeatability, j.Sweep.AtLeast = stated, 6 })
		p := open(t, o, byCable{near42(0.2, 0.1, -0.05), spread}).until(session.ForWind)
		s := p.state()
		f, err := s.Fit()
		if err != nil {
			t.Fatal(err)
		}
		return f.Sigma, f.Dof, f.Trembles()
	}
	plain, dof, trembles := spreads(0, 0)
	if trembles {
		t.Error("samples that do not spread tremble")
	}
	j := benchOpened(t).Job
	want := math.Hypot(spread, j.Dial.Rounding()) // both are in every reading, and independent
	sigma, same, trembles := spreads(0, spread)
	if math.Abs(sigma-want) > 1e-9 || same != dof || !trembles || plain >= sigma {
		t.Errorf("nothing stated: %v with %v degrees of freedom (trembles %v), want %v with %v", sigma, same, trembles, want, dof)
	}
	one, _, _ := spreads(0.005, 0)
	if two, _, trembles := spreads(0.005, spread); two != one || trembles {
		t.Errorf("0.005 stated: %v without trembling, %v with", one, two)
	}
}

// Spreads are pooled by their degrees of freedom: of 3 samples that spread by 1 and 11 that spread by 2 thousandths it is
// √((2·1 + 10·4)/12).
func TestTremblingIsPooled(t *testing.T) {
	p := bench(t, 7).until(session.ForReading)
	for _, g := range []session.Gauged{{Source: "fifo:x", Samples: 3, Spread: 0.001}, {Source: "fifo:x", Samples: 11, Spread: 0.002},
		{Source: "fifo:x", Samples: 1}, {}} {
		p.do(session.Take{Reading: 0, Gauge: g})
	}
	got := p.state().Trembling
	if want := 0.001 * math.Sqrt(42.0/12); math.Abs(got.Spread()-want) > 1e-12 || got.Readings != 2 || got.Dof != 12 {
		t.Errorf("%+v, spread %v, want %v of 2 readings with 12", got, got.Spread(), want)
	}
	p.do(session.Undo{}, session.Undo{}, session.Undo{})
	if got := p.state().Trembling; got.Readings != 1 || got.Dof != 2 || math.Abs(got.Spread()-0.001) > 1e-12 {
		t.Errorf("taken back: %+v", got)
	}
}

// A needle that trembles by just what is stated is said to tremble by more in fewer than 1 in 100 settings of thirty readings, also
// where its samples are alike; one that trembles by half as much again, nearly always.
func TestTremblingSeldomAccuses(t *testing.T) {
	settings := 150
	if os.Getenv("TRAMMEL_TRAPS") != "" {
		settings = 5000
	}
	const stated, readings, n = 0.002, 30, 10
	for _, alike := range []float64{0, 0.5, 0.9} {
		for _, more := range []float64{1, 1.5} {
			rng, said := rand.New(rand.NewPCG(24, 1)), 0
			for range settings {
				if accuses(t, stated, readings, n, func() func() float64 {
					v := rng.NormFloat64()
					return func() float64 {
						v = alike*v + math.Sqrt(1-alike*alike)*rng.NormFloat64()
						return more * stated * v
					}
				}) {
					said++
				}
			}
			if more == 1 && 100*said >= settings {
				t.Errorf("alike by %v: said in %d of %d settings, want below 1 in 100", alike, said, settings)
			}
			if more > 1 && alike == 0 && 100*said < 99*settings {
				t.Errorf("half as much again: said in %d of %d settings", said, settings)
			}
		}
	}
}

// accuses plays one setting's readings as far as the trembling of their samples goes.
func accuses(t *testing.T, stated float64, readings, n int, needle func() func() float64) bool {
	t.Helper()
	o := benchOpened(t)
	o.Job.Dial.Repeatability = stated
	s := session.State{}.Apply(o)
	for range readings {
		shows, sum, squares := needle(), 0.0, 0.0
		for range n {
			v := shows()
			sum, squares = sum+v, squares+v*v
		}
		spread := math.Sqrt((squares - sum*sum/float64(n)) / float64(n-1))
		s = s.Apply(session.Wound{Gauge: session.Gauged{Source: "fifo:x", Samples: n, Spread: spread}})
	}
	return s.Trembling.Told
}

// A what-if leaves the other readings where they came from, and what they tell of the needle; one that is put right is typed.
func TestWhatIfKeepsTheCable(t *testing.T) {
	_, lines := golden(t, "v1-cable.jsonl")
	all := events(t, lines)
	n := takenAt(all)[1]
	w, err := session.Try(all, []session.Change{{Event: n, Reading: all[n-1].(session.Took).Reading + 0.001}})
	if err != nil {
		t.Fatal(err)
	}
	by := all[n-1].(session.Took).Gauge
	for i, st := range w.Now.Sweep.Stations[:w.Now.Sweep.N] {
		if want := (session.Gauged{}); i == 1 && st.Gauge != want || i != 1 && st.Gauge != by {
			t.Errorf("station %d comes from %+v", i+1, st.Gauge)
		}
	}
	if got, want := w.Now.Trembling.Readings, w.Now.Sweep.N-1; got != want || w.Now.Sweep.N < 5 {
		t.Errorf("%d readings tell of the needle, want %d", got, want)
	}
}

// What no indicator can have sent is refused, and a journal with it has a line that is wrong.
func TestGaugedIsChecked(t *testing.T) {
	for _, g := range []session.Gauged{{Source: "fifo:x"}, {Samples: 3}, {Source: "fifo:x", Samples: -1},
		{Source: "fifo:x", Samples: 3, Spread: -0.1},
		{Source: "fifo:x", Samples: 3, Spread: math.NaN()}, {Source: "fifo:x", Samples: 3, Spread: math.Inf(1)},
		{Source: "fifo:x", Samples: 3, Spread: 1e200}, {Source: "fifo:x", Samples: 1, Spread: 0.5}, {Source: "fifo:x", Samples: 2},
		{Source: "fifo:x", Samples: 1e9}, {Source: "x", Samples: 3}, {Source: "exec:" + strings.Repeat("x", 1<<20), Samples: 3}} {
		p := bench(t, 7).until(session.ForReading)
		p.refused(session.Take{Reading: 0.1, Gauge: g})
		for _, e := range []session.Event{session.Took{Gauge: g}, session.Wound{Slide: "x", Gauge: g}, session.Reopened{Gauge: g},
			session.Wondered{Gauge: g}, session.Worked{Step: session.LockHead, Gauge: g}} {
			line, err := session.Encode(1, begin, e)
			if err != nil {
				continue // JSON has no such number
			}
			if _, err := session.Decode(1, line); err == nil {
				t.Errorf("%s is read", line)
			}
		}
	}
}

// Journals of today fold to what they did: nobody's readings came by a cable.
func TestOldJournalsDoNotTremble(t *testing.T) {
	for _, g := range goldens {
		if g.name == "v1-cable.jsonl" {
			continue
		}
		_, lines := golden(t, g.name)
		s, err := session.Fold(lines, nil)
		if err != nil || s.Trembling != (session.Trembling{}) || s.Set.Job.Dial.Trembling != 0 {
			t.Errorf("%s: %+v (%v)", g.name, s.Trembling, err)
		}
	}
}

// Every kind of reading tells of the needle once: at stations, at winds, behind the head's lock, and through the question what a
// number was, but not while that is asked; and a setting begins with none.
func TestTremblingOfEveryKind(t *testing.T) {
	tells := func(what string, s session.State, want int) {
		t.Helper()
		if got := s.Trembling.Readings; got != want || s.Set.Job.Dial.Trembling != s.Trembling.Spread() {
			t.Errorf("%s: %d readings tell of the needle, the dial has %v, want %d", what, got, s.Set.Job.Dial.Trembling, want)
		}
	}
	p, sixth := early(t)
	p.do(session.Take{Reading: sixth, Gauge: cable})
	tells("asked which it is", p.state(), 0)
	p.do(session.NextStation{})
	tells("the next station's", p.state(), 1)
	v := 0.0
	s := p.state().Apply(session.Worked{Step: session.LockHead, Value: &v, Gauge: cable})
	tells("behind the head's lock", s, 2)
	s = s.Apply(session.Wound{Slide: "x", Reading: &v, Gauge: cable})
	tells("at a wind", s, 3)
	s = s.Apply(session.Took{Gauge: cable})
	tells("at a station", s, 4)
	o := benchOpened(t)
	o.Job.Dial.Trembling = 0.5
	tells("another setting", s.Apply(o), 0)
}

// Two readings do not say that the needle trembles by more than is stated, however much they tremble; three may.
func TestTremblingTakesThree(t *testing.T) {
	s := session.State{}.Apply(benchOpened(t))
	if s.Set.Job.Dial.Repeatability <= 0 {
		t.Fatal("nothing is stated")
	}
	for n := 1; n <= 3; n++ {
		s = s.Apply(session.Wound{Gauge: session.Gauged{Source: "x", Samples: 100, Spread: 10 * s.Set.Job.Dial.Repeatability}})
		if s.Trembling.Told != (n == 3) {
			t.Errorf("behind %d readings: said %v", n, s.Trembling.Told)
		}
	}
}

// A journal whose check is right is read by what it says: no dial's needle spreads further than it goes, and no reading came by two
// cables. That of practice is as good as another.
func TestImpossibleGaugesOfAJournal(t *testing.T) {
	p := bench(t, 7).until(session.ForReading)
	n := len(p.mem.Lines) + 1
	fold := func(g session.Gauged, change func(string) string) error {
		line, err := session.Encode(n, begin, session.Took{Reading: 0.1, Gauge: g})
		if err != nil {
			t.Fatal(err)
		}
		s := change(string(line))
		_, err = session.Fold(append(append([][]byte(nil), p.mem.Lines...), []byte(s)), nil)
		return err
	}
	same := func(s string) string { return s }
	most := p.state().Set.Job.Dial.Farthest()
	if err := fold(session.Gauged{Source: session.Practised, Samples: 10, Spread: most / 10}, same); err != nil {
		t.Error(err)
	}
	wide := session.Gauged{Source: "fifo:x", Samples: 10, Spread: most * 1.01}
	p.refused(session.Take{Reading: 0.1, Gauge: wide})
	var line *session.LineError
	if err := fold(wide, same); !errors.As(err, &line) || line.Number != n || !strings.Contains(line.Why, "needle goes to") {
		t.Errorf("samples that spread over more than the dial: %v", err)
	}
	twice := func(s string) string {
		return strings.Replace(s, `"gauge":`, `"gauge":{"source":"fifo:x","samples":5},"gauge":`, 1)
	}
	if err := fold(session.Gauged{Source: "fifo:x", Samples: 5}, twice); !errors.As(err, &line) || !strings.Contains(line.Why, "twice") {
		t.Errorf("two gauges: %v", err)
	}
}
