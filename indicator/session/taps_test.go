package session_test

import (
	"math"
	"testing"

	"example.org/trammel/indicator/session"
)

const tapsJob = `unit = "mm"
[setup]
kind = "turned"
touch = "bore"
reference_radius = 30
indicator_bearing = 90
[target]
centre_tolerance = 0.02
[sweep]
stations = 6
[dial]
graduation = 0.01
range = 1.6
repeatability = 0.003
`

// A machine without slides on its table.
const tapsMachine = `name = "m"
unit = "mm"
[slide.offset]
travel_per_turn = 2.0
divisions = 100
clockwise = "increase"
take_up = "increase"
backlash = 0.1
`

// loose is a plate that lies on the table: where its bore's middle lies, in the table's frame.
type loose struct{ x, y float64 }

// shows is the needle with the wall met at a bearing of the plate, in a bore of 30 with the tip at 30.
func (l loose) shows(rad float64) float64 {
	ux, uy := math.Cos(rad), math.Sin(rad)
	along, across := l.x*ux+l.y*uy, -l.x*uy+l.y*ux
	return 30 - along - math.Sqrt(30*30-across*across)
}

// driven knocks the plate from a side: it goes the opposite way.
func (l loose) driven(side, by float64) loose {
	return loose{l.x - by*math.Cos(side), l.y - by*math.Sin(side)}
}

// sweepIt takes a sweep of the plate.
func (l loose) sweepIt(p *player) {
	for p.prompt().Waits == session.ForReading {
		p.do(session.Take{Reading: l.shows(float64(p.prompt().Reading.Bearing))})
	}
}

// A plate off by 0.3 along its own +X is driven along −X, from the side at 0°: with the indicator at 180° of the
// plate, across from the hammer, whose needle falls as the wall goes away. What the needle shows after a tap that went
// half of it, or too far, is the next tap's beginning; beside the line it is brought in across it.
func TestTaps(t *testing.T) {
	p := opens(t, tapsJob, tapsMachine)
	l := loose{0.3, 0}
	l.sweepIt(p)
	q := p.prompt()
	tap := q.Wind.Told.Tap
	if tap == nil || q.Wind.Told.Park.Bearing.Apart(math.Pi) > 1e-9 || !tap.Towards || tap.Side.Apart(0) > 0.001 ||
		math.Abs(q.Wind.Told.Wind.Travel-0.3) > 0.003 {
		t.Fatalf("told %+v, %+v", q.Wind.Told, tap)
	}
	// Indicator at 90° of the machine; the table so that 180° of the plate stands there: 90° − 180°.
	if math.Abs(q.Position().Table.Degrees360()-270) > 1e-9 || math.Abs(q.Wind.Told.Park.Now-0.3) > 0.003 ||
		math.Abs(q.Wind.Told.Park.Goal) > 0.003 {
		t.Fatalf("table at %v°, needle from %v to %v", q.Position().Table.Degrees360(), q.Wind.Told.Park.Now, q.Wind.Told.Park.Goal)
	}
	p.refused(session.Confirm{})
	p.refused(session.Take{Reading: 5})
	l = l.driven(0, 0.15)
	p.do(session.Take{Reading: l.shows(math.Pi)})
	if q = p.prompt(); q.Wind.Told.Tap == nil || !q.Wind.Told.Tap.Towards || math.Abs(q.Wind.Told.Wind.Travel-0.15) > 0.005 ||
		q.Wind.Told.Step != 2 {
		t.Fatalf("half way: told %+v", q.Wind.Told)
	}
	l = l.driven(0, 0.19) // too far by 0.04, and aside
	l.y = 0.05
	p.do(session.Take{Reading: l.shows(math.Pi)})
	if q = p.prompt(); q.Wind.Told.Tap == nil || q.Wind.Told.Tap.Towards || math.Abs(q.Wind.Told.Wind.Travel-0.04) > 0.005 ||
		q.Wind.Told.Tap.Side.Apart(math.Pi) > 0.001 {
		t.Fatalf("too far: told %+v %+v", q.Wind.Told, q.Wind.Told.Tap)
	}
	l = l.driven(math.Pi, 0.04)
	p.do(session.Take{Reading: l.shows(math.Pi)})
	// What went aside no needle has shown: the next sweep finds it.
	if q = p.prompt(); q.Waits != session.ForReading || p.state().Trial != 2 {
		t.Fatalf("on the line: waits for %v, trial %d", q.Waits, p.state().Trial)
	}
	l.sweepIt(p)
	q = p.prompt()
	if q.Wind.Told.Tap == nil || q.Wind.Told.Park.Bearing.Apart(3*math.Pi/2) > 1e-9 || math.Abs(q.Wind.Told.Wind.Travel-0.05) > 0.005 {
		t.Fatalf("across: told %+v", q.Wind.Told)
	}
	l = l.driven(math.Pi/2, 0.05)
	p.do(session.Take{Reading: l.shows(3 * math.Pi / 2)})
	l.sweepIt(p)
	if q = p.prompt(); q.Waits != session.ForAccept {
		t.Fatalf("waits for %v", q.Waits)
	}
	back, err := session.Fold(p.mem.Lines, nil)
	if err != nil || digest(back) != digest(p.state()) {
		t.Fatalf("the journal folds to another state (%v)", err)
	}
}

// A needle driven off the dial has no reading: the sweep begins anew, and what was foretold is forgotten.
func TestTapOff(t *testing.T) {
	p := opens(t, tapsJob, tapsMachine)
	loose{0.3, 0}.sweepIt(p)
	p.do(session.Restart{})
	if s := p.state(); p.prompt().Waits != session.ForReading || s.Predicted != nil || s.Sweep.N != 0 {
		t.Fatalf("waits for %v, foretold %v", p.prompt().Waits, s.Predicted)
	}
}

// A middle that is proven inside is let lie, and a job may ask for taps on a machine that has slides.
func TestTapsWhere(t *testing.T) {
	p := opens(t, tapsJob, tapsMachine)
	loose{0.002, -0.002}.sweepIt(p)
	if q := p.prompt(); q.Waits != session.ForAccept {
		t.Fatalf("waits for %v", q.Waits)
	}
	slides := "[slide.table_x]\ntravel_per_turn = 2\ndivisions = 100\nclockwise = \"increase\"\ntake_up = \"increase\"\nbacklash = 0.1\n"
	slides += "[slide.table_y]\ntravel_per_turn = 2\ndivisions = 100\nclockwise = \"increase\"\ntake_up = \"increase\"\nbacklash = 0.1\n"
	for text, taps := range map[string]bool{tapsJob: false, "unit = \"mm\"\n[setup]\ntaps = true\n" +
		tapsJob[len("unit = \"mm\"\n[setup]\n"):]: true} {
		p := opens(t, text, tapsMachine+slides)
		if got := p.state().Set.Job.Setup.Taps; got != taps || (p.prompt().Waits == session.ForLoad) == taps {
			t.Errorf("taps %v, want %v; it waits for %v", got, taps, p.prompt().Waits)
		}
	}
}
