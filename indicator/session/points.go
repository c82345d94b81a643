package session

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/job"
	"example.org/trammel/indicator/slide"
)

// In setup points a station is a place where a tip was touched to the circle, and its reading the two
// coordinates that the readout showed. A sweep of them says where the circle's centre lies in the
// readout's own frame; what is left to do is to go there, and how far that is depends on where the
// spindle stands: where it touched last, or where a person has said since.

// TouchPoint enters the coordinates at which the tip touched, millimetres.
type TouchPoint struct{ At geom.Point }

func (TouchPoint) row() *CommandRow { return touchPoint }

var touchPoint = command[TouchPoint]{decide: func(s *State, c TouchPoint) (Event, error) { return decideTouch(s, c.At) }}.row()

// ParsePoint reads two coordinates in unit u, with spaces, tabs or a semicolon between them; both may
// have a decimal comma. The error is a *[Refusal].
func ParsePoint(text string, u geom.Unit) (TouchPoint, error) {
	const like = "the two coordinates, x first, like 12.345 -3.21"
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '\t' || r == ';' })
	if len(fields) != 2 {
		return TouchPoint{}, refuse(like, "%d numbers, need x and y", len(fields))
	}
	x, err := geom.ParseNumber(fields[0])
	if err != nil {
		return TouchPoint{}, refuse(like, "%v", err)
	}
	y, err := geom.ParseNumber(fields[1])
	if err != nil {
		return TouchPoint{}, refuse(like, "%v", err)
	}
	return TouchPoint{geom.Point{X: u.MM(x), Y: u.MM(y)}}, nil
}

// touches reports whether the job is set by points.
func (s *State) touches() bool { return s.Set != nil && s.Set.Job.Setup.Kind == indicator.Points }

// farthest bounds a coordinate, millimetres: beyond is no machine, and its square is still a number.
const farthest = 1e6

func decideTouch(s *State, p geom.Point) (Event, error) {
	b, ok := s.NextBearing()
	switch {
	case !s.touches():
		return nil, refuse("type the reading alone", "two numbers, and this setup reads one at a time")
	case !ok:
		return nil, refuse(s.hint(), "no point is asked for")
	case !(math.Abs(p.X) <= farthest && math.Abs(p.Y) <= farthest):
		return nil, refuse("", "coordinates %v and %v mm, need numbers within %v mm", p.X, p.Y, float64(farthest))
	}
	return Took{Bearing: b, At: (*Place)(&p), Again: s.again()}, nil
}

// goesTo reports whether the wind that is told sends a slide to a coordinate.
func (s *State) goesTo() bool {
	sl, _ := s.Set.Machine.Slide(s.Told.Wind.Slide)
	return s.touches() || (s.Told.SetOff && sl.Readout)
}

// pointAsked: the coordinates where the circle is touched at about a bearing.
type pointAsked struct{ stationAsked }

func (q pointAsked) prompt(s *State) Prompt {
	p := q.entry(s)
	p.Touch = true
	return Prompt{Waits: ForReading, Reading: p}
}

func (pointAsked) number(*State, float64) (Event, error) {
	return nil, refuse("the two coordinates, x first, like 12.345 -3.21", "one number, need the point's x and y")
}

func (q pointAsked) hint(s *State) string {
	if s.Doubt != nil {
		return q.stationAsked.hint(s)
	}
	return "touch the circle, then type x and y"
}

// goAsked: a wind to a coordinate, answered with the one at which the slide has come to stand.
type goAsked struct{ collarAsked }

func (goAsked) number(s *State, at float64) (Event, error) {
	u := s.Set.Job.Unit
	from := s.Stand(s.Told.Wind.Slide)
	goal := from.At + s.Told.Wind.Travel
	most := math.Max(mostAway, math.Abs(s.Told.Wind.Travel)/10)
	if s.Told.SetOff { // a readout shows all of it, however far
		most = mostAway
	}
	if !(math.Abs(at-goal) <= most) {
		return nil, refuse("wind on to the coordinate that is told, or look again",
			"%.6g %v is %.4g %v beside the goal of %.6g %v, need it within %.4g %v", u.From(at), u, u.From(math.Abs(at-goal)), u, u.From(goal), u, u.From(most), u)
	}
	return Wound{Slide: s.Told.Wind.Slide, At: &at}, nil
}

func (q goAsked) hint(s *State) string {
	if s.touches() {
		return "go to the coordinate that is told, then type what the readout shows, or confirm"
	}
	return q.collarAsked.hint(s)
}

// mostAway bounds how far beside its goal a slide is believed to have been stopped by its readout: more is a
// slide that is still to be wound, or a coordinate mistyped (common practice, no source).
const mostAway = 0.5

// points returns the coordinates of the sweep with the numbers (from 1) of their stations; one station
// (from 1) may be left out.
func (w *Sweep) points(without int) (at []geom.Point, station []int) {
	for i := range w.Stations[:w.N] {
		if st := &w.Stations[i]; !st.Skipped && i != without-1 {
			at, station = append(at, st.At), append(station, i+1)
		}
	}
	return at, station
}

// Located fits the circle to the sweep's points; errors are those of [indicator.Setup.Locate].
func (s *State) Located() (indicator.Touched, error) { return s.locatedWithout(0) }

func (s *State) locatedWithout(station int) (indicator.Touched, error) {
	at, _ := s.Sweep.points(station)
	return s.Set.Job.Setup.Locate(s.Set.Job.Dial, at)
}

// spindle returns where the spindle stands by the readouts, and the standard doubt of each coordinate since
// the slide was wound; ok is false where one of them is not known.
func (s *State) spindle() (at, doubt geom.Point, ok bool) {
	x, y := s.Stand("x"), s.Stand("y")
	return geom.Point{X: x.At, Y: y.At}, geom.Point{X: s.standDoubt("x"), Y: s.standDoubt("y")}, x.Known && y.Known
}

// standDoubt is the standard doubt of where a slide stands: that of the step in which a coordinate is shown,
// where somebody has read it there; of a step either way where a hand has gone to a told coordinate; by
// the collar that of the wind, and of the play, whose side nobody knows after touching both ways.
func (s *State) standDoubt(name string) float64 {
	step := s.Set.Job.Dial.ReadsTo * s.Set.Job.Dial.Graduation
	n, d := s.times(name)
	sl, _ := s.Set.Machine.Slide(name)
	switch {
	case n == 0 || d.At != nil || sl.Readout:
		return shownDoubt(step, n == 0 || d.At != nil)
	}
	return math.Hypot(s.doubtOf(d.Wind), indicator.FromLimit(sl.Backlash))
}

// shownDoubt is the standard doubt of where a slide stands by a readout that counts in step: read there, or gone to
// within a step of what was told.
func shownDoubt(step float64, read bool) float64 {
	if read {
		return step / math.Sqrt(12)
	}
	return step / math.Sqrt(3)
}

// Standing returns the circle as it is seen from where the spindle stands now, and whether that is known.
// Its centre error is how far there is still to go.
func (s *State) Standing() (indicator.Found, bool) {
	t, err := s.Located()
	at, doubt, ok := s.spindle()
	if err != nil || !ok {
		return indicator.Found{}, false
	}
	return t.From(at, doubt), true
}

// Verdicts says what is proven of where things stand now: in setup points of where the spindle stands, else
// of what the sweep found.
func (s *State) Verdicts(f *indicator.Found) job.Verdicts {
	if !s.touches() {
		return s.setOffVerdict(s.Judge(f))
	}
	g, ok := s.Standing()
	if !ok {
		return job.Verdicts{Centre: indicator.Undecided}
	}
	return s.Judge(&g)
}

// mostGoes bounds how often a slide is sent to one centre: stopped beside it twice, it is time to touch again.
const mostGoes = 2

// nextGo tells the next wind towards the centre, or that there is none. Nothing can be swept from there; what
// is known of the centre, and how near to it the spindle has been stopped, is the answer.
func (s *State) nextGo() Event {
	f, ok := s.Standing()
	if !ok {
		return Settled{Radius: indicator.NoVerdict, Centre: indicator.Undecided}
	}
	v := s.Judge(&f)
	var next *slide.Wind
	done, left := 0, 0
	for i, name := range s.Set.Job.Needs() {
		sl, _ := s.Set.Machine.Slide(name)
		row := [2]geom.Point{{X: 1}, {Y: 1}}[i]
		n, _ := s.times(name)
		done += n
		e := errand{slide: sl, travel: f.Part(row), half: s.Set.Job.Target.CentreTolerance / 2, verdict: v.Centre}
		switch {
		case n >= mostGoes, v.Centre == indicator.Inside, !(math.Abs(e.travel.V) > s.leastGo(sl)):
			continue
		case n > 0 && !e.worth():
			continue
		}
		if left++; next == nil {
			w := sl.Wind(e.travel.V)
			next = &w
		}
	}
	if next == nil {
		return Settled{Radius: indicator.NoVerdict, Centre: v.Centre}
	}
	return Told{Step: done + 1, Of: done + left, Wind: *next, Open: true}
}

// leastGo is the least that a slide is sent: what its readout shows, or what a hand can set by the collar.
func (s *State) leastGo(sl slide.Slide) float64 {
	if sl.Readout {
		return s.Set.Job.Dial.ReadsTo * s.Set.Job.Dial.Graduation / 2
	}
	return sl.Finest()
}

// touched makes a station's entry of a point: how far it came from the circle of the others, and whether
// that is more than chance allows.
func (s *State) touched(e Took) Station {
	st := Station{Bearing: e.Bearing, At: geom.Point(*e.At), WouldBe: math.NaN(), OffBy: indicator.Value{V: math.NaN(), U: math.NaN()}}
	if s.Sweep.Readings() < fit.MinPlaces {
		return st
	}
	t, err := s.locatedWithout(s.again())
	if err != nil || t.Found.Dof <= 0 {
		return st
	}
	f := &t.Found
	x := f.Expect(st.At.Sub(t.Centre).Bearing())
	st.OffBy = indicator.Value{V: t.Residual(st.At), U: x.U}
	band := x.U * fit.Student(1-surpriseAlarm/2, f.Dof) / fit.Coverage(f.Dof)
	if st.Surprise = math.Abs(st.OffBy.V) > band; st.Surprise {
		st.Because = indicator.UnknownCause
		if _, ok := signTurned(&t, st.At, x.U); ok {
			st.Because = indicator.SignTurned
		}
	}
	return st
}

// stop takes in where the spindle stood when the tip touched.
func (s *State) stop(p geom.Point) {
	s.stands(StoodAt{"x", p.X})
	s.stands(StoodAt{"y", p.Y})
}

// signTurned returns the point that a sign left out or put in by mistake would have been, where that brings
// it to within band of the circle.
func signTurned(t *indicator.Touched, p geom.Point, band float64) (q geom.Point, ok bool) {
	near := band
	for _, try := range []geom.Point{{X: -p.X, Y: p.Y}, {X: p.X, Y: -p.Y}} {
		if off := math.Abs(t.Residual(try)); off <= near && try != p {
			q, near, ok = try, off, true
		}
	}
	return q, ok
}

// doubtedPoint names the point that does not fit the others, where nobody has looked at it again yet. Where the
// linear test calls an alarm, a point far off may have bent the circle towards itself: which of them it is, the
// circles that leave out one at a time say.
func (s *State) doubtedPoint() (d Doubted, ok bool) {
	t, err := s.Located()
	if err != nil || len(t.Found.Suspects(t.Bearings, t.Distances)) == 0 {
		return d, false
	}
	at, station := s.Sweep.points(0)
	least, which := math.Inf(1), -1
	for i, n := range station {
		if u, err := s.locatedWithout(n); err == nil && u.Found.Circle.SSR < least {
			least, which = u.Found.Circle.SSR, i
		}
	}
	if which < 0 {
		return d, false
	}
	n := station[which]
	if st := &s.Sweep.Stations[n-1]; st.Asked || st.Kept {
		return d, false
	}
	d = Doubted{Station: n, Because: indicator.UnknownCause}
	if u, err := s.locatedWithout(n); err == nil && u.Found.Dof > 0 {
		if q, ok := signTurned(&u, at[which], u.Found.Expect(at[which].Sub(u.Centre).Bearing()).U); ok {
			d.Because, d.WouldBeAt = indicator.SignTurned, (*Place)(&q)
		}
	}
	return d, true
}

// suspectPoints lists the points that do not fit the others.
func (s *State) suspectPoints(f *indicator.Found) []indicator.Suspect {
	t, err := s.Located()
	if err != nil {
		return nil
	}
	_, station := s.Sweep.points(0)
	out := f.Suspects(t.Bearings, t.Distances)
	for i := range out {
		out[i].Index = station[out[i].Index] - 1
		out[i].Because, out[i].WouldBe = indicator.UnknownCause, math.NaN() // a distance is nobody's entry
	}
	return out
}

func (s *State) formOfPoints(w *Sweep, trial int) (Form, error) {
	at, station := w.points(0)
	if n := len(at); n < indicator.MinProfile {
		return Form{}, fmt.Errorf("%d points, need at least %d", n, indicator.MinProfile)
	}
	l, err := indicator.Locate(s.Set.Job.Dial, at)
	if err != nil {
		return Form{}, err
	}
	r, err := l.Roundness(at, s.Set.Job.Setup.Touch)
	form := Form{Roundness: r, Trial: trial, Station: station}
	for _, n := range station {
		if w.Stations[n-1].Kept {
			form.Kept = append(form.Kept, n)
		}
	}
	return form, err
}

// loaded lists the slides that stand loaded when a setting has ended: all that were wound, but by points,
// which are touched both ways.
func (s *State) loaded() []string {
	if s.touches() {
		return nil
	}
	return s.Set.Job.Needs()
}

// seen returns the points as the circle's centre sees them, with the stations' numbers (from 1).
func (s *State) seen() (bearings []geom.Bearing, distances []float64, station []int) {
	t, err := s.Located()
	if err != nil {
		return nil, nil, nil
	}
	_, station = s.Sweep.points(0)
	return t.Bearings, t.Distances, station
}
