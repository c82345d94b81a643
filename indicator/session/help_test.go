package session_test

import (
	"errors"
	"fmt"
	"hash/maphash"
	"math"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/testdata"
)

// begin is when the sessions of these tests begin; every command comes 20 s after the last.
var begin = time.Date(2025, 3, 4, 9, 0, 0, 0, time.UTC)

// benchOpened is the setting of the practice bench.
func benchOpened(t testing.TB) session.Opened {
	t.Helper()
	o := testdata.Setting(t, practice.BenchJob, practice.BenchMachine)
	o.Files = []session.File{{Name: "bench-job.toml", SHA256: strings.Repeat("5a", 32)}}
	return o
}

// hands answer what a session waits for.
type hands interface {
	Do(session.Prompt) (session.Command, bool, error)
}

// player carries a live session on and keeps everything that came of it.
type player struct {
	t     testing.TB
	live  *session.Live
	mem   *session.Memory
	hands hands
	steps []session.Step
	calls int
}

// open begins a session in memory with one setting.
func open(t testing.TB, o session.Opened, h hands) *player {
	t.Helper()
	p := &player{t: t, mem: &session.Memory{}, hands: h}
	p.live = session.NewLive(session.State{}, p.mem)
	p.do(session.Open{Opened: o})
	return p
}

// bench opens the practice bench of a seed.
func bench(t testing.TB, seed uint64) *player {
	t.Helper()
	return open(t, benchOpened(t), practice.New(practice.Bench(seed), seed))
}

func (p *player) now() time.Time { return begin.Add(time.Duration(p.calls) * 20 * time.Second) }

// do carries out commands that must not be refused.
func (p *player) do(commands ...session.Command) {
	p.t.Helper()
	for _, c := range commands {
		steps, err := p.live.Do(c, p.now())
		if err != nil {
			p.t.Fatalf("%T: %v", c, err)
		}
		p.calls++
		p.steps = append(p.steps, steps...)
	}
}

func (p *player) state() session.State { return p.live.State() }

func (p *player) prompt() session.Prompt {
	s := p.state()
	return s.Prompt()
}

// most bounds the answers that a test gives to one question.
const most = 500

// until answers what is asked until the session waits for w.
func (p *player) until(w session.Waits) *player {
	p.t.Helper()
	for range most {
		q := p.prompt()
		if q.Waits == w {
			return p
		}
		p.answer(1)
	}
	p.t.Fatalf("the session does not come to wait for %d within %d answers", w, most)
	return p
}

// answer answers the next n questions.
func (p *player) answer(n int) *player {
	p.t.Helper()
	for range n {
		c, ok, err := p.hands.Do(p.prompt())
		if err != nil || !ok {
			p.t.Fatalf("hands: nothing to do (%v)", err)
		}
		p.do(c)
	}
	return p
}

// refused holds a command to be refused, to have changed nothing and to have recorded nothing,
// and returns why.
func (p *player) refused(c session.Command) *session.Refusal {
	p.t.Helper()
	before, lines := digest(p.state()), len(p.mem.Lines)
	steps, err := p.live.Do(c, p.now())
	var r *session.Refusal
	if !errors.As(err, &r) {
		p.t.Fatalf("%T %+v: error %v, want a refusal", c, c, err)
	}
	if len(steps) != 0 || len(p.mem.Lines) != lines || digest(p.state()) != before {
		p.t.Fatalf("%T %+v was refused and yet something happened: %d steps, %d lines", c, c, len(steps), len(p.mem.Lines)-lines)
	}
	return r
}

// everyKind plays a bench with every kind of entry on the way, twice taken back, and a second
// setting after it.
func everyKind(t testing.TB) *player {
	t.Helper()
	p := bench(t, 7)
	p.do(session.Sense{Slide: "x", Went: session.Up}, session.Sense{Slide: session.Tip, Went: session.Down}, session.Undo{})
	p.do(session.Note{Text: "plate of the belt tensioner, pivot bore up; Ø60 ±0.01"})
	p.answer(1)
	p.do(session.Undo{}, session.Confirm{})
	p.until(session.ForReading).answer(2)
	p.do(session.Skip{}, session.Skip{Off: session.Pressed}, session.Undo{}, session.Skip{Off: session.Free})
	p.do(session.Undo{}, session.Undo{}, session.Restart{})
	p.answer(4)
	p.do(session.AskClosing{}, session.Undo{}, session.Hold{Radius: 42, Limit: 0.5}, session.Release{}, session.At{Slide: "x", At: 1.5})
	p.do(session.Bezel{Showed: 0.1, Shows: 0.2}, session.Undo{})
	p.do(session.Enough{}, session.Undo{}, session.Enough{})
	p.until(session.ForWind)
	p.do(session.Raise{Height: 30})
	p.until(session.ForWind).answer(1)
	p.do(session.Undo{}, session.Confirm{}, session.Note{Text: "collar was not zeroed"}, session.Undo{})
	p.do(session.Restart{}) // in the middle of the winds: trial 2
	p.until(session.ForAccept)
	p.do(session.Restart{})
	p.until(session.ForAccept)
	p.do(session.Accept{})
	p.hands = practice.New(practice.Bench(8), 8)
	p.do(session.Open{Opened: benchOpened(t)})
	return p.until(session.ForNothing)
}

// ideal is a machine without error: its readings follow the exact model of a swept circle
// (design: d = e·u + √(ρ² − (e·v)²); bore m = z − d, boss m = d − z), and its slides go where they
// are told. It is written out here so that a sign of the program's cannot hide.
type ideal struct {
	boss              bool
	rho, swing, reach float64
	ex, ey            float64
	turned            []string // slides wound, in order
	arc               float64  // what is measured of the arc
	headMoves         float64  // what locking the head does to the needle
}

func (w *ideal) reading(b geom.Bearing) float64 {
	s, c := math.Sincos(float64(b))
	across := -w.ex*s + w.ey*c
	d := w.ex*c + w.ey*s + math.Sqrt(w.rho*w.rho-across*across)
	if w.boss {
		return d - (w.swing + w.reach)
	}
	return w.swing + w.reach - d
}

// Do answers like [practice.Machine.Do].
func (w *ideal) Do(p session.Prompt) (session.Command, bool, error) {
	switch p.Waits {
	case session.ForReading:
		return session.Take{Reading: w.reading(p.Reading.Bearing)}, true, nil
	case session.ForLoad:
		return session.Confirm{}, true, nil
	case session.ForWind:
		t := p.Wind.Told.Wind.Travel
		switch w.turned = append(w.turned, p.Wind.Slide.Name); p.Wind.Slide.Name {
		case "x":
			w.ex -= t
		case "y":
			w.ey -= t
		case "offset":
			w.swing += t
		}
		return session.Confirm{}, true, nil
	case session.ForChore:
		switch p.Chore.Step {
		case session.Measure, session.CheckArc:
			return session.Take{Reading: w.arc}, true, nil
		case session.LockHead:
			return session.Take{Reading: w.reading(p.Reading.Bearing) + w.headMoves}, true, nil
		default: // the rest is done without a figure
			return session.Confirm{}, true, nil
		}
	case session.ForAccept:
		return session.Accept{}, true, nil
	case session.ForAgain:
		return session.Restart{}, true, nil
	case session.ForNothing, session.ForDrift, session.ForCheck, session.ForBack, session.ForMoved,
		session.ForSize: // an ideal dial does not drift
	}
	return nil, false, nil
}

// near42 is an ideal bench whose swing is out by dr, and whose centre by (ex, ey).
func near42(dr, ex, ey float64) *ideal {
	return &ideal{rho: 30, swing: 42 + dr, reach: -12, ex: ex, ey: ey}
}

// absurd is a bench whose dial is without end, and whose readings no circle fits: the centre would
// lie beyond the wall of the bore.
func absurd(t testing.TB) *player {
	t.Helper()
	return open(t, with(t, func(j *setup.Job) { j.Dial.From, j.Dial.To = 0, 0 }), nonsense{})
}

// nonsense reads 50 mm to and fro.
type nonsense struct{}

// Do answers like [practice.Machine.Do].
func (nonsense) Do(p session.Prompt) (session.Command, bool, error) {
	if p.Waits == session.ForReading {
		return session.Take{Reading: 50 * math.Cos(float64(p.Reading.Bearing))}, true, nil
	}
	return (&ideal{}).Do(p)
}

// with returns the bench setting, changed.
func with(t testing.TB, change func(*setup.Job)) session.Opened {
	t.Helper()
	o := benchOpened(t)
	change(&o.Job)
	return o
}

// byCollar is the bench whose slides are all wound by the collar.
func byCollar(t testing.TB) session.Opened {
	t.Helper()
	o := benchOpened(t)
	for i := range o.Machine.Slides {
		o.Machine.Slides[i].ByCollar = true
	}
	return o
}

// digest sums up a value with everything it points to, fields that are not exported too, so that
// two values are the same when their digests are (but for one case in 2^64). Floats count by
// their bits: a NaN is then equal to itself, and a zero is not equal to a negative one.
func digest(v any) uint64 {
	d := walker{seen: map[uintptr]int{}}
	d.sum.SetSeed(seed)
	d.walk("", reflect.ValueOf(v))
	return d.sum.Sum64()
}

// dump is what digest sums up, one field a line, to find out what is different.
func dump(v any) []string {
	d := walker{seen: map[uintptr]int{}, keep: true}
	d.walk("", reflect.ValueOf(v))
	return d.lines
}

var seed = maphash.MakeSeed()

type walker struct {
	sum   maphash.Hash
	seen  map[uintptr]int
	keep  bool
	lines []string
}

// note takes one thing in.
func (d *walker) note(path string, bits uint64, shown any) {
	if d.keep {
		d.lines = append(d.lines, fmt.Sprintf("%s: %v (%x)", path, shown, bits))
		return
	}
	maphash.WriteComparable(&d.sum, bits)
}

func (d *walker) walk(path string, v reflect.Value) {
	sub := func(name string) string {
		if d.keep {
			return path + name
		}
		return ""
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "fitted" && name != "next" && name != "sealed" { // follow, or are a program's
				d.walk(sub("."+name), v.Field(i))
			}
		}
	case reflect.Array, reflect.Slice:
		if v.Kind() == reflect.Slice && v.IsNil() {
			d.note(path, 0, "nil")
			return
		}
		d.note(path, 1+uint64(v.Len()), "elements")
		for i := range v.Len() {
			d.walk(sub("["+strconv.Itoa(i)+"]"), v.Index(i))
		}
	case reflect.Pointer:
		d.pointer(path, v)
	case reflect.Interface:
		d.walk(sub("("+v.Elem().Type().String()+")"), reflect.ValueOf(v.Elem().Type().String()))
		d.walk(path, v.Elem())
	case reflect.Float64:
		d.note(path, math.Float64bits(v.Float()), v)
	case reflect.String:
		d.note(path, maphash.String(seed, v.String()), v)
	case reflect.Bool:
		d.note(path, map[bool]uint64{true: 1}[v.Bool()], v)
	case reflect.Int, reflect.Int8:
		d.note(path, uint64(v.Int()), v)
	case reflect.Uint8:
		d.note(path, v.Uint(), v)
	default:
		panic("a " + v.Kind().String() + " at " + path + " cannot be compared")
	}
}

// pointer follows a pointer once, and after that names the place where it was followed.
func (d *walker) pointer(path string, v reflect.Value) {
	n, known := d.seen[v.Pointer()]
	switch {
	case v.IsNil():
		d.note(path, 0, "nil")
	case known:
		d.note(path, uint64(n), "the same as before")
	default:
		n = len(d.seen) + 1
		d.seen[v.Pointer()] = n
		d.note(path, uint64(n), "new")
		d.walk("#"+strconv.Itoa(n), v.Elem())
	}
}

// wantSame fails with the first difference of two values.
func wantSame(t testing.TB, what string, got, want any) {
	t.Helper()
	if digest(got) == digest(want) {
		return
	}
	g, w := dump(got), dump(want)
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("%s: %s, want %s", what, g[i], w[i])
		}
	}
	t.Fatalf("%s: %d fields, want %d", what, len(g), len(w))
}

// verdicts are those of the sweep that is open or just closed.
func verdicts(t testing.TB, s session.State) (f indicator.Estimate, v indicator.Verdicts) {
	t.Helper()
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return f, s.Judge(&f)
}

// fitted is the fit of a state's sweep.
func fitted(t testing.TB, s *session.State) *indicator.Estimate {
	t.Helper()
	f, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	return &f
}
