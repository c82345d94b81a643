package session_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// frame is one physical truth, to be described in two ways: a plate under a head that is swung, and the same
// plate on a table that is turned. Lengths are millimetres, angles degrees.
type frame struct {
	bore             bool
	rho, reach       float64
	swing            float64 // where the offset slide stands now
	ex, ey           float64 // the reference's centre less the axis, in the plate's frame
	askew            [2]float64
	limit            float64
	clockwise, takes [3]bool // of x, y, offset: a clockwise turn, and the last movement, make the head's coordinate grow
	anticlockwise    [3]bool // collar figures
	byCollar         bool
	inch             bool
	stands           float64 // where the indicator stands beside the table
	zero             [2]float64
	ringClockwise    [2]bool
}

// told is what one setup was told in its first trial, as it comes out in the plate's frame.
type told struct {
	slide    string
	dx, dy   float64 // what the centre did, seen from the axis
	swing    float64
	moves    []slide.Move
	park     bool
	at, goal float64 // bearing of the plate at which the needle was watched, and where to stop
}

// files writes the job and the machine as a user would, for a head or a table.
func (f *frame) files(turned bool) (jobText, machineText string) {
	unit, per := "mm", 1.0
	if f.inch {
		unit, per = "in", 25.4
	}
	kind, names, side := `"carried"`, [3]string{"x", "y", "offset"}, 0
	if turned {
		kind, names, side = fmt.Sprintf("\"turned\"\nindicator_bearing = %v", f.stands), [3]string{"table_x", "table_y", "offset"}, 1
	}
	touch := map[bool]string{true: "bore", false: "boss"}[f.bore]
	jobText = fmt.Sprintf("unit = %q\n[setup]\nkind = %s\ntouch = %q\nreference_radius = %v\nreach = %v\n[target]\nswing_radius = "+
		"%v\ntolerance = %v\ncentre_tolerance = %v\n"+
		"[sweep]\nstations = 6\n[dial]\ngraduation = %v\nrange = %v\nrepeatability = %v\n",
		unit, kind, touch, f.rho/per, f.reach/per, (f.rho-f.reach)/per, 0.02/per, 0.02/per, 0.01/per, 4/per, 0.003/per)
	sense := map[bool]string{true: "clockwise", false: "anticlockwise"}
	way := func(grows bool) string { return map[bool]string{true: "increase", false: "decrease"}[grows] }
	var b strings.Builder
	fmt.Fprintf(&b, "name = \"m\"\nunit = %q\n", unit)
	for i, ring := range [2]string{"head", "table"} {
		fmt.Fprintf(&b, "[%s]\nzero = %v\nsense = %q\n", ring, f.zero[i], sense[f.ringClockwise[i]])
	}
	for i, name := range names {
		// The hand does the same; the work goes where the head came from.
		clockwise, takes := f.clockwise[i], f.takes[i]
		if side == 1 && i < 2 {
			clockwise, takes = !clockwise, !takes
		}
		fmt.Fprintf(&b, "[slide.%s]\ntravel_per_turn = %v\ndivisions = 100\nclockwise = %q\ntake_up = %q\nbacklash = %v\ncollar_figures "+
			"= %q\nby_collar = %v\n",
			name, 2/per, way(clockwise), way(takes), 0.1/per, sense[!f.anticlockwise[i]], f.byCollar)
		if i < 2 {
			fmt.Fprintf(&b, "bearing = %v\nbearing_error = %v\n", f.askew[i]+90*float64(i), f.limit)
		}
	}
	return jobText, b.String()
}

// reads is the needle where a setup's ring shows a figure: the wall is met by walking along the
// indicator's line, in the machine's frame.
func (f *frame) reads(turned bool, ring float64) (needle, met float64) {
	i := 0
	if turned {
		i = 1
	}
	set := f.zero[i] + ring
	if f.ringClockwise[i] {
		set = f.zero[i] - ring
	}
	// The head points to `set`; or the table has carried the centre round by it, and the indicator stands still.
	look, cx, cy := set*math.Pi/180, f.ex, f.ey
	if turned {
		look = f.stands * math.Pi / 180
		s, c := math.Sincos(set * math.Pi / 180)
		cx, cy = c*f.ex-s*f.ey, s*f.ex+c*f.ey
		met = f.stands - set
	} else {
		met = set
	}
	ux, uy := math.Cos(look), math.Sin(look)
	half := ux*cx + uy*cy
	wall := half + math.Sqrt(half*half-(cx*cx+cy*cy)+f.rho*f.rho)
	if needle = f.swing + f.reach - wall; !f.bore {
		needle = -needle
	}
	return needle, met
}

// trial plays one setup up to the end of its first winds.
func (f frame) trial(t *rapid.T, turned bool) (out []told, at []float64, end frame, state session.State) {
	jobText, machineText := f.files(turned)
	j, err := job.ParseJob("job", []byte(jobText))
	if err != nil {
		t.Fatalf("%v\n%s", err, jobText)
	}
	m, err := job.ParseMachine("machine", []byte(machineText))
	if err != nil {
		t.Fatalf("%v\n%s", err, machineText)
	}
	live := session.NewLive(session.State{}, &session.Memory{})
	do := func(c session.Command) {
		if _, err := live.Do(c, time.Time{}); err != nil {
			t.Fatalf("%T: %v", c, err)
		}
	}
	do(session.Open{Opened: session.Opened{Job: j, Machine: m}})
	for range most {
		s := live.State()
		p := s.Prompt()
		switch {
		case s.Trial > 1 || p.Waits == session.ForAccept:
			return out, at, f, s
		case p.Waits == session.ForLoad:
			do(session.Confirm{})
		case p.Waits == session.ForReading:
			needle, met := f.reads(turned, p.Position().Ring)
			at = append(at, met)
			do(session.Take{Reading: needle})
		case p.Waits == session.ForWind:
			w := told{slide: strings.TrimPrefix(p.Wind.Slide.Name, "table_"), moves: p.Wind.Moves, park: p.Wind.Told.Park != nil}
			before := f
			f.hand(p)
			w.dx, w.dy, w.swing = f.ex-before.ex, f.ey-before.ey, f.swing-before.swing
			if !w.park {
				do(session.Confirm{})
			} else {
				needle, met := f.reads(turned, p.Position().Ring)
				w.at, w.goal = met, p.Wind.Told.Park.Goal
				do(session.Take{Reading: needle})
			}
			out = append(out, w)
		default:
			t.Fatalf("it waits for %v", p.Waits)
		}
	}
	t.Fatal("the trial does not end")
	return nil, nil, f, session.State{}
}

// hand does what is told, on a screw without play, and the truth follows: what a handwheel does to the head,
// the one of the table's slide does the other way round to the plate, which comes to the same.
func (f *frame) hand(p session.Prompt) {
	i := map[string]int{"x": 0, "table_x": 0, "y": 1, "table_y": 1, "offset": 2}[p.Wind.Slide.Name]
	turns := 0.0 // clockwise
	for _, m := range p.Wind.Moves {
		n := float64(m.Turns) + m.Divisions/100
		if m.Turn == slide.Anticlockwise {
			n = -n
		}
		turns += n
	}
	by := 2 * turns
	if !f.clockwise[i] {
		by = -by
	}
	if i == 2 {
		f.swing += by
		return
	}
	s, c := math.Sincos((f.askew[i] + 90*float64(i)) * math.Pi / 180)
	f.ex, f.ey = f.ex-by*c, f.ey-by*s
}

func apart(a, b float64) float64 { return math.Abs(math.Remainder(a-b, 360)) }

// One truth, told as a plate under a head and as the same plate on a table, gives the same winds of the same
// hand, to the same effect, at the same place of the plate; and the effect is that the centre comes in. So
// it does whatever way the slides go, the rings are figured and zeroed, the screws are cut, and in either unit.
func TestOneTruthInTwoFrames(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		angle := func(limit float64, name string) float64 { return rapid.Float64Range(-limit, limit).Draw(r, name) }
		flag := func(name string) bool { return rapid.Bool().Draw(r, name) }
		f := frame{
			bore: flag("bore"), rho: rapid.Float64Range(8, 60).Draw(r, "reference"), stands: angle(360, "indicator"),
			ex: angle(0.3, "ex"), ey: angle(0.3, "ey"), byCollar: flag("by collar"), inch: flag("inch"),
			limit: rapid.SampledFrom([]float64{0, 0.5, 3}).Draw(r, "bearing error"),
		}
		f.reach = rapid.Float64Range(-12, 6).Draw(r, "reach")
		// Not nothing: then two opposite places would do equally well, and rounding would choose.
		f.swing = f.rho - f.reach + rapid.Float64Range(0.03, 0.3).Draw(r, "swing off")*rapid.SampledFrom([]float64{1, -1}).Draw(r, "off")
		for i := range 3 {
			f.clockwise[i], f.takes[i], f.anticlockwise[i] = flag("clockwise"), flag("take-up"), flag("figures")
		}
		for i := range 2 {
			f.zero[i], f.ringClockwise[i] = angle(360, "ring zero"), flag("ring sense")
			f.askew[i] = angle(25, "askew") + rapid.SampledFrom([]float64{0, 180, 90}).Draw(r, "flip")*float64(1-i)
		}
		if s := math.Abs(math.Sin((f.askew[1] + 90 - f.askew[0]) * math.Pi / 180)); s < 0.51 || math.Abs(f.askew[0]) > 250 {
			r.Skip("nearly parallel, which a machine file is refused for")
		}
		one, stations, carried, a := f.trial(r, false)
		two, turnedAt, turned, b := f.trial(r, true)
		for i := range stations {
			if len(turnedAt) != len(stations) || apart(stations[i], turnedAt[i]) > 1e-6 {
				r.Fatalf("stations at %v and %v of the plate", stations, turnedAt)
			}
		}
		if len(one) != len(two) {
			r.Fatalf("%+v\nand on the table\n%+v", one, two)
		}
		for i, c := range one {
			d := two[i]
			same := c.slide == d.slide && c.park == d.park && len(c.moves) == len(d.moves) && math.Abs(c.goal-d.goal) < 1e-9 &&
				math.Hypot(c.dx-d.dx, c.dy-d.dy) < 1e-9 && math.Abs(c.swing-d.swing) < 1e-9
			if c.slide != "offset" { // which acts alike all the way round
				// Halfway between two marks of the ring it acts as much at either; and where it acts as much but for a fiftieth,
				// which the program calls alike, and the needle ends at the same reading at either, nothing is left to prefer one by.
				line := math.Atan2(c.dy, c.dx)
				acts := func(at float64) float64 { return math.Abs(math.Cos(at*math.Pi/180 - line)) }
				same = same && (apart(c.at, d.at) < 1e-6 || math.Abs(math.Log(acts(c.at)/acts(d.at))) < math.Log(1.02))
			}
			for k := 0; same && k < len(c.moves); k++ {
				m, n := c.moves[k], d.moves[k]
				same = m.Turn == n.Turn && math.Abs(float64(m.Turns-n.Turns)*100+m.Divisions-n.Divisions) < 1e-7
			}
			if !same {
				r.Fatalf("wind %d: %+v\nand on the table %+v", i+1, c, d)
			}
		}
		for _, end := range []frame{carried, turned} {
			if off := math.Hypot(end.ex, end.ey); off > 0.015 || math.Abs(end.swing-(f.rho-f.reach)) > 0.011 {
				r.Fatalf("after the winds the centre is %.4f off, the swing %.4f", off, end.swing-(f.rho-f.reach))
			}
		}
		if a.Phase != b.Phase || a.Trial != b.Trial {
			r.Fatalf("trial %d, phase %v, and on the table trial %d, phase %v", a.Trial, a.Phase, b.Trial, b.Phase)
		}
	})
}

// The same truth as coordinates: the points that the indicator met, read off a readout whose zero is the
// axis, give the same centre.
func TestOneTruthInPoints(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		ex, ey := rapid.Float64Range(-0.5, 0.5).Draw(r, "ex"), rapid.Float64Range(-0.5, 0.5).Draw(r, "ey")
		f := frame{bore: true, rho: 30, reach: -12, swing: 42, ex: ex, ey: ey, stands: rapid.Float64Range(0, 360).Draw(r, "indicator")}
		s := indicator.Setup{Kind: indicator.Turned, ReferenceRadius: 30, Reach: -12, ReachKnown: true,
			IndicatorBearing: geom.FromDegrees(f.stands)}
		var at []geom.Bearing
		var readings []float64
		var points []geom.Point
		for i := range 7 {
			stands := 40 * float64(i)
			needle, _ := f.reads(true, stands)
			at, readings = append(at, s.Surface(geom.FromDegrees(stands))), append(readings, needle)
			d, u := 30-needle, geom.FromDegrees(f.stands-stands).Unit()
			points = append(points, geom.Point{X: d * u.X, Y: d * u.Y})
		}
		by, err := indicator.Fit(indicator.Dial{}, s, at, readings)
		if err != nil {
			r.Fatal(err)
		}
		c, err := indicator.Locate(indicator.Dial{}, points)
		if err != nil {
			r.Fatal(err)
		}
		if e := by.Circle.Centre; math.Hypot(e.X-ex, e.Y-ey) > 1e-9 || math.Hypot(c.Circle.Centre.X-ex, c.Circle.Centre.Y-ey) > 1e-9 {
			r.Fatalf("centre %v by the table, %v by points, want %v, %v", e, c.Circle.Centre, ex, ey)
		}
	})
}
