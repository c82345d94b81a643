package lines_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/practice"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
	"example.org/trammel/testdata"
)

// Told by its handle, a table comes from station to station as its ring is told, in every trial: each turn is 4° of the table, clockwise
// lets the ring's figures grow, and the last movement is always the same way.
func TestStationsByTheTablesHandle(t *testing.T) {
	job, machine := practice.Turned.Files()
	o := testdata.Setting(t, job, machine)
	o.Machine.Handwheel = setup.Handwheel{Turn: float64(geom.FromDegrees(4)), Divisions: 80, Clockwise: slide.Increase,
		Play: float64(geom.FromDegrees(0.5))}
	m, live := practice.New(practice.Turned.Bench(3), 3), session.NewLive(session.State{}, &session.Memory{})
	at, told := math.NaN(), 0
	do := func(c session.Command) {
		steps, err := live.Do(c, time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		for _, st := range steps {
			for _, l := range lines.Of(st, geom.Millimetre) {
				ask, ok := l.(lines.Ask)
				if !ok {
					continue
				}
				to := at
				for i, h := range ask.Handle {
					by := 4 * (float64(h.Turns) + float64(h.Rest)/80)
					if h.Turn == slide.Anticlockwise {
						by = -by
					}
					to += by
					// Anticlockwise round the reference is clockwise for the table.
					grows := o.Machine.Table.Figures == slide.Clockwise
					if last := i == len(ask.Handle)-1; last && (by > 0) != grows {
						t.Errorf("%s: the last movement is %v", ask.Text(), h)
					}
				}
				if len(ask.Handle) > 0 {
					told++
					if off := math.Remainder(to-float64(ask.Collar), 360); math.Abs(off) > 1e-6 {
						t.Errorf("%s: from ring %v° it comes to %v°", ask.Text(), at, to)
					}
				}
				at = float64(ask.Collar)
			}
		}
	}
	do(session.Open{Opened: o})
	for {
		st := live.State()
		answer, ok, err := m.Do(st.Prompt())
		if err != nil {
			t.Fatal(err)
		}
		if !ok || st.Phase == session.SettledDown {
			break
		}
		if p := st.Prompt(); p.Waits == session.ForWind && p.Wind.Told.Park != nil {
			at = o.Machine.Table.Shows(o.Job.Setup.Stands(p.Wind.Told.Park.Bearing))
		}
		do(answer)
	}
	if told < 6 {
		t.Errorf("%d stations were told by the handle", told)
	}
}

// What is said of stops, by hand: the head's ring falls and shows 0 at 90°, so 20.15° is ring 69.85 and 70.3° is 19.7; with marks of
// 1° read to a fifth, short of both is 69.8 and 19.8. A window of 0.4° is less than half a mark.
func TestStopsAreSaid(t *testing.T) {
	past, short, wide := geom.FromDegrees(0.6), geom.FromDegrees(1.25), geom.FromDegrees(0.4)
	a := part.Picked{N: 3, Radius: 40, From: geom.FromDegrees(20.15), To: geom.FromDegrees(70.3), Side: "inside", Cutter: 6, Swing: 43,
		Sense: "anticlockwise", AtFrom: &part.Window{Past: &past, Short: short}, AtTo: &part.Window{Past: &wide, Short: short}, LetPass: 0.002}
	s := cutting(false, false, &a)
	s.Set.Order, s.Phase, s.Set.Steps = 2, session.Cutting, true
	s.Set.Machine.Head = setup.Ring{Zero: geom.FromDegrees(90), Figures: slide.Clockwise, Graduation: float64(geom.FromDegrees(1))}
	stops, ok := lines.StopsOf(s, geom.Millimetre)
	if !ok {
		t.Fatal("there are none")
	}
	want := []string{
		"start at ring 69.8°: no more than 0.60° (0.450 mm at the cutter) beyond, no more than 1.25° (0.938 mm at the cutter) short; rather " +
			"short",
		"stop at ring about 19.8°: no more than 0.40° (0.300 mm at the cutter) beyond, no more than 1.25° (0.938 mm at the cutter) short; rather " +
			"short; a hard stop, not the ring, which shows 1° at best",
	}
	if got := stops.Words(); strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("\n%s, want\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	text, err := json.Marshal(lines.StopsLine{Say: "stops", Stops: stops})
	if err != nil {
		t.Fatal(err)
	}
	const object = `{"say":"stops","start":20.15,"stop":70.3,"ring_start":69.8,"ring_stop":19.8,"past_start":0.6,"past_stop":0.4,` +
		`"short_start":1.25,"short_stop":1.25,"end_tolerance_start":null,"end_tolerance_stop":null,`
	const end = `"hard_start":false,"hard_stop":true,"reads":0.2,"handle":null}`
	if !strings.HasPrefix(string(text), object) || !strings.HasSuffix(string(text), end) {
		t.Errorf("%s, want it to begin\n%s", text, object)
	}
	s.Set.Machine.Head.Graduation = 0
	stops, _ = lines.StopsOf(s, geom.Millimetre)
	if got := strings.Join(stops.Words(), "; "); !strings.HasPrefix(got, "start at bearing 20.15°: ") ||
		!strings.HasSuffix(got, "; no graduation of the head's ring is stated, so no figure of it is told") {
		t.Errorf("without a graduation: %s", got)
	}
}
