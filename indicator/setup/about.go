package setup

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
)

// About says where the reference stands that is swept, where an arc has nothing to sweep round its own centre, and how the drawing
// lies. Both places are the drawing's, millimetres; they are one where the reference stands about the arc's own centre after all.
type About struct {
	Reference geom.Point `json:"reference_at"`
	Centre    geom.Point `json:"centre_at"`
	// Angle is how far the drawing's X is turned counter-clockwise from the way of the slide that is called so, and AngleLimit
	// bounds its error, ±, radians.
	Angle      geom.Bearing `json:"angle,omitempty"`
	AngleLimit float64      `json:"angle_error,omitempty"`
	// SlidePer100 bounds what the slides are out over 100 of their way, and SquarePer100 what they are out of square, ±.
	SlidePer100  float64 `json:"slide_error_per_100,omitempty"`
	SquarePer100 float64 `json:"square_per_100,omitempty"`
}

// elsewhere says that the reference stands about another centre than the arc's.
func (a *About) elsewhere() bool { return a.Reference != a.Centre }

// Lie is how the drawing lies at the machine: its X is turned by Turned, counter-clockwise, from where the head's or the table's
// bearings are counted from. Known is false where nobody has said so, and the drawing is taken to lie with its X along theirs.
type Lie struct {
	Turned geom.Bearing
	Known  bool
}

// LieOf is how the drawing of a job's arc lies. Its angle was found along the first of the slides, which need not run along its name.
func LieOf(j *Job, m *Machine) (l Lie) {
	if j.About == nil {
		return l
	}
	sl, _ := m.Slide(Of(j).Under().Cross[0])
	return Lie{Turned: j.About.Angle + geom.Bearing(sl.Askew), Known: true}
}

// Course is the way from the reference's centre to the arc's: how far it is, and what each slide has to go for it, in the order
// of the pair Names; millimetres.
type Course struct {
	About
	Way    float64
	Names  [2]string
	Travel [2]float64
}

// Away is where the axis stands once slides have carried it on from what was swept. What its doubt is made of are expanded
// uncertainties, millimetres, each in its worst direction.
type Away struct {
	Course
	// Sweep is of what was swept, Slides of how far they have gone, Turned of the drawing's angle and Square of theirs; NaN where
	// nobody has stated that.
	Sweep, Slides, Turned, Square float64
	// From is where the sweep was taken by the slides' scales, nil where one of them is not known.
	From *geom.Point
}

// CourseOf is the course of a job; ok is false where the reference stands about the arc's own centre. The slides' directions
// are those of the machine's file, seen from the first: the drawing's angle was found along it.
func CourseOf(j *Job, m *Machine) (c Course, ok bool) {
	if j.About == nil || !j.About.elsewhere() {
		return c, false
	}
	g := Of(j).Under()
	cross := advice.Cross{Names: g.Cross, OnTable: g.Table}
	for i, name := range cross.Names {
		sl, _ := m.Slide(name)
		cross.Askew[i] = sl.Askew
	}
	cross.Askew = [2]float64{0, cross.Askew[1] - cross.Askew[0]}
	to := j.About.Centre.Sub(j.About.Reference)
	c = Course{About: *j.About, Way: to.Norm(), Names: cross.Names}
	along := (to.Bearing() + c.Angle).Unit().Times(c.Way)
	for i := range c.Travel {
		c.Travel[i] = along.Dot(cross.Row(i))
	}
	return c, true
}

// course is that of the bench's job.
func (b *Bench) course() (c Course) {
	c, _ = CourseOf(b.Job, b.Machine)
	return c
}

// goingAbout is the mover where an arc has nothing to sweep round its own centre: the slides bring the axis over a reference
// that stands elsewhere, and carry it from there to the arc's centre by the distance on the drawing. What the sweep knew of the
// reference, how far the slides have gone, and how the drawing lies to them make one doubt of the centre, and that is the
// verdict.
type goingAbout struct{ carriedOff }

func isAbout(kind indicator.Kind) func(*Job) bool {
	return func(j *Job) bool {
		return j.Setup.Kind == kind && j.About != nil && j.About.elsewhere() && !j.Setup.Taps
	}
}

var offAbout = OffWords{Out: "go to the arc's centre", Over: "reference", Counted: true}

// carriedAbout: the machine's slides carry the spindle from the reference to the arc's centre.
var carriedAbout = SetUp{Ground: carriedRound, Mover: goingAbout{}, Is: isAbout(indicator.Carried),
	Example: Job{Setup: indicator.Setup{Kind: indicator.Carried}, About: &About{Centre: geom.Point{X: 1}}},
	Words: Words{Name: carried.Name, Swung: carried.Swung, Off: offAbout, Steps: func(p *Phrases) []string {
		return append(carried.Steps(p), aboutSteps...)
	}},
}

// turnedAbout: the slides on the table carry the work on, until the arc's centre lies over the table's axis.
var turnedAbout = SetUp{Ground: turnedUnder, Mover: goingAbout{}, Is: isAbout(indicator.Turned),
	Example: Job{Setup: indicator.Setup{Kind: indicator.Turned}, About: &About{Centre: geom.Point{X: 1}}},
	Words: Words{Name: turned.Name, Swung: turned.Swung, Off: offAbout, Steps: func(p *Phrases) []string {
		return append(turned.Steps(p), aboutSteps...)
	}},
}

var aboutSteps = []string{
	"   the reference that is swept is the one the job names, and stands elsewhere than the arc: check on the drawing that it is",
	"   that one, and that distances go from its centre to the arc's; once over it, tip clear, and the slides go on to the arc's",
}

// Does: see [Mover].
func (m goingAbout) Does() MoverFacts {
	f := m.slides.Does()
	f.Away = true
	return f
}

// Next: see [Mover].
func (m goingAbout) Next(b *Bench, f *indicator.Estimate) Next {
	return thenOff(m.slides.Next(b, f), m, b, f)
}

// nextOff tells how far the next slide has still to carry the axis; more is false where nothing is worth winding. What is left
// of the centre error at the reference goes with the way.
func (goingAbout) nextOff(b *Bench, f *indicator.Estimate) (w Wind, more bool) {
	c := b.course()
	way, cross := c.Travel, b.Cross()
	done, left := 0, 0
	for i, name := range c.Names {
		sl, ok := b.Machine.Slide(name)
		if !ok {
			continue
		}
		off := b.Off[i]
		done += off.Winds
		by := way[i] + f.Part(cross.Row(i)).V - off.Travel
		enough := max(b.Target.CentreTolerance/4, sl.Finest())
		if longest := math.Abs(way[i]) >= math.Abs(way[1-i]); longest && off.Winds == 0 {
			enough = 0
		}
		if off.Winds >= mostOffs || math.Abs(by) <= enough {
			continue
		}
		if left++; left == 1 {
			w = Wind{Wind: b.windOff(sl, by), SetOff: true, Open: true}
			if !sl.Readout {
				w.Table = b.reachedFrom(sl)
			}
		}
	}
	w.Step, w.Of = done+1, done+left
	return w, left > 0
}

// Standing: see [Mover]. Seen from the axis the arc's centre lies where the reference's lies and by the way beyond it, less what
// the slides have gone.
func (goingAbout) Standing(b *Bench, f *indicator.Estimate) (indicator.Estimate, bool) {
	g := *f
	if !b.Off.away() {
		return g, true
	}
	c, cross := b.course(), b.Cross()
	for i, name := range c.Names {
		if a, ok := cross.Axis(name); ok {
			g = g.Moved(a, b.Off[i].Travel-c.Travel[i], b.Off[i].Doubt)
		}
	}
	turned, askew := b.turns(c.Travel)
	g = g.Moved(turned, 0, indicator.FromLimit(c.AngleLimit))
	return g.Moved(askew, 0, indicator.FromLimit(c.SquarePer100/100)), true
}

// turns are what a radian does to the circle that the drawing, and that the second slide, stands turned by.
func (b *Bench) turns(way [2]float64) (drawing, second indicator.Axis) {
	cross := b.Cross()
	for i, name := range cross.Names {
		aside, _ := cross.Aside(name)
		for k := range aside {
			drawing[k] += aside[k] * way[i]
			if i == 1 {
				second[k] = aside[k] * way[i]
			}
		}
	}
	return drawing, second
}

// Away: see [Mover].
func (goingAbout) Away(b *Bench, f *indicator.Estimate) (a Away, ok bool) {
	if !b.Off.away() {
		return a, false
	}
	a = Away{Course: b.course(), Sweep: f.OffAtMost().U}
	a.Slides = expanded(math.Hypot(b.Off[0].Doubt, b.Off[1].Doubt))
	a.Turned, a.Square = math.NaN(), math.NaN()
	if b.Stated.Has(indicator.OfAngle) {
		a.Turned = expanded(indicator.FromLimit(a.AngleLimit) * a.Way)
	}
	if b.Stated.Has(indicator.OfSquare) {
		a.Square = expanded(indicator.FromLimit(a.SquarePer100/100) * math.Abs(a.Travel[1]))
	}
	x, y := b.Stand(a.Names[0]), b.Stand(a.Names[1])
	if x.Known && y.Known {
		a.From = &geom.Point{X: x.At - b.Off[0].Travel, Y: y.At - b.Off[1].Travel}
	}
	return a, true
}

// aboutLeans are the figures that the way from the reference to the arc's centre leans on.
var aboutLeans = []struct {
	indicator.Figure
	acts func(b *Bench, way [2]float64) bool
}{
	{indicator.Figure{Name: indicator.OfAngle, Key: "setup.angle_error", Words: "drawing's angle at the arc",
		Cure: "clock a longer edge"}, func(*Bench, [2]float64) bool { return true }},
	{indicator.Figure{Name: indicator.OfSlides, Key: "setup.slide_error_per_100", Words: "slides' scales",
		Cure: "try the slides over a known length"}, (*Bench).byReadout},
	{indicator.Figure{Name: indicator.OfSquare, Key: "setup.square_per_100", Words: "squareness of the slides",
		Cure: "try the slides with a square"}, func(_ *Bench, way [2]float64) bool { return math.Abs(way[1]) > 1 }},
}

// byReadout reports whether a slide goes by a readout, whose scale nothing else is taken of: of a screw a limit is.
func (b *Bench) byReadout([2]float64) bool {
	c := b.course()
	return slices.ContainsFunc(c.Names[:], func(name string) bool {
		sl, _ := b.Machine.Slide(name)
		return sl.Readout
	})
}

// Assumed: see [Mover]. The way is named ahead of the reference's form, for more depends on it.
func (goingAbout) Assumed(b *Bench, f *indicator.Estimate) indicator.Assumed {
	swept := f.Assumed(b.Stated)
	if !b.Off.away() {
		return swept
	}
	c := b.course()
	at := 0
	for at < len(swept) && swept[at].Centre == 0 {
		at++
	}
	out := slices.Clone(swept[:at])
	for _, l := range aboutLeans {
		if !b.Stated.Has(l.Name) && l.acts(b, c.Travel) {
			out = append(out, indicator.Lean{Figure: l.Figure, Centre: 1})
		}
	}
	return append(out, swept[at:]...)
}

// Room: see [Mover].
func (m goingAbout) Room(b *Bench, f *indicator.Estimate) indicator.Room {
	g, _ := m.Standing(b, f)
	return b.Target.Room(&g, m.Assumed(b, f))
}

// Verdicts: see [Mover]. They are on the arc's centre, once the slides have gone there.
func (m goingAbout) Verdicts(b *Bench, f *indicator.Estimate) indicator.Verdicts {
	g, _ := m.Standing(b, f)
	v := b.Target.Judge(&g, b.Tail)
	if b.Holds {
		v = m.Room(b, f).HoldBack(v)
	}
	return v
}
