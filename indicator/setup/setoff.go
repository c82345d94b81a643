package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// settingOff: a swing radius may be set by a machine slide: the spindle is stood over the table's axis, which a sweep in
// the table's bore shows, and carried off it by the radius. No sweep can look at it from there. What the
// sweep knew of the axis and what is known of how far the slide has gone make one swing radius with one
// budget, and that is the verdict.
type settingOff struct{ slides }

// setOff: the spindle stands over the axis, and a slide carries it off by the swing radius.
var setOff = SetUp{Ground: carriedRound, Mover: settingOff{}, Is: func(j *Job) bool {
	return j.Setup.Kind == indicator.Carried && j.Target.SetOff != nil
},
	Example: Job{Setup: indicator.Setup{Kind: indicator.Carried}, Target: Target{SetOff: &SetOff{Slide: "x", Way: slide.Increase}}},
	Words: Words{Name: "carried", Swung: "head", Steps: func(p *Phrases) []string {
		return []string{
			"1  indicator on a bar in the cutter spindle, tip in the table's bore, pressing " + p.Press,
			"2  spindle out of gear, to be turned by hand; table, quill and knee locked where the sweep is to be",
			"3  always turn the same way round; hand off before reading",
			"4  over the axis, " + p.RadiusSlide + " sets the swing radius; lock the other slide, and do not touch it again",
		}
	}},
}

// Does: see [Mover].
func (m settingOff) Does() MoverFacts {
	f := m.slides.Does()
	f.Turns, f.Off = true, true
	return f
}

// mostSetOffs bounds how often the slide is sent to one radius.
const mostSetOffs = 2

// RadiusSlide: see [Mover].
func (settingOff) RadiusSlide(b *Bench) (sl slide.Slide, way slide.Way, ok bool) {
	o := b.Job.Target.SetOff
	if o == nil {
		return sl, 0, false
	}
	sl, ok = b.Machine.Slide(o.Slide)
	return sl, o.Way, ok
}

// Wound: see [Mover]. It takes in a wind off the axis, or back to it. A readout says where the slide stands, whatever way it
// has come; by the collar every wind adds its own doubt.
func (m settingOff) Wound(b *Bench, w *Wind, at *float64) (o Off, ok bool) {
	if !w.SetOff {
		return o, false
	}
	if w.Back {
		return o, true
	}
	sl, _, _ := m.RadiusSlide(b)
	from := b.Stand(sl.Name).At
	o = Off{Winds: b.Off.Winds + 1, Travel: b.Off.Travel + w.Wind.Travel}
	if at != nil {
		o.Travel = b.Off.Travel + *at - from
	}
	if step := sl.ReadoutStep(); sl.Readout {
		o.Doubt = math.Hypot(advice.ShownDoubt(step, true), advice.ShownDoubt(step, at != nil))
	} else {
		o.Doubt = math.Hypot(b.Off.Doubt, b.doubtAlone(w.Wind))
	}
	if sl.Lock && at == nil {
		o.Doubt = math.Hypot(o.Doubt, indicator.FromLimit(advice.LockLimit))
	}
	return o, true
}

// GoesTo: see [Mover].
func (settingOff) GoesTo(b *Bench, w *Wind) bool {
	sl, _ := b.Machine.Slide(w.Wind.Slide)
	return w.SetOff && sl.Readout
}

// Swing: see [Mover]. It is the one that the slide has set off the axis, with the doubt of both.
func (m settingOff) Swing(b *Bench, f *indicator.Estimate) (r Swing, ok bool) {
	sl, way, has := m.RadiusSlide(b)
	if !has || b.Off.Winds == 0 {
		return r, false
	}
	cross := b.Cross()
	along := cross.Unit(cross.Of(sl.Name))
	// Seen from the spindle the axis has gone the other way.
	to := f.Circle.Centre.Sub(along.Times(b.Off.Travel))
	out := along.Times(float64(way))
	axis, travel := f.Part(out).U, fit.Coverage(math.Inf(1))*b.Off.Doubt
	return Swing{Value: indicator.Value{V: to.Norm(), U: math.Hypot(axis, travel)}, Off: true, Axis: axis, Travel: travel}, true
}

// Next: see [Mover].
func (m settingOff) Next(b *Bench, f *indicator.Estimate) Next {
	n := m.slides.Next(b, f)
	if n.Wind != nil || n.Sweep {
		return n
	}
	if w, more := m.nextOff(b, f); more {
		return Next{Wind: &w}
	}
	return Next{Settled: m.Verdicts(b, f)}
}

// nextOff tells how far the slide has still to carry the spindle; more is false where nothing is worth winding.
func (m settingOff) nextOff(b *Bench, f *indicator.Estimate) (w Wind, more bool) {
	sl, way, ok := m.RadiusSlide(b)
	if !ok || b.Off.Winds >= mostSetOffs {
		return w, false
	}
	t := b.Target
	cross := b.Cross()
	along := cross.Unit(cross.Of(sl.Name))
	// The axis lies e off the spindle: the slide has to go by as much, and by the radius beyond it; what is
	// across counts by its square.
	part, aside := f.Circle.Centre.Dot(along), f.Circle.Centre.Dot(geom.Point{X: -along.Y, Y: along.X})
	goal := part + float64(way)*math.Sqrt(max(0, t.SwingRadius*t.SwingRadius-aside*aside))
	by := goal - b.Off.Travel
	if b.Off.Winds > 0 && math.Abs(by) <= max(t.Tolerance/2, sl.Finest()) {
		return w, false
	}
	return Wind{Step: b.Off.Winds + 1, Of: b.Off.Winds + 1, Wind: b.byCollar(sl, by), SetOff: true, Open: true}, true
}

// Back: see [Mover]. It leads over the axis, where the sweep is taken.
func (m settingOff) Back(b *Bench) (w Wind, ok bool) {
	if b.Off.Winds == 0 {
		return w, false
	}
	sl, _, _ := m.RadiusSlide(b)
	return Wind{Step: 1, Of: 1, Wind: b.byCollar(sl, -b.Off.Travel), SetOff: true, Back: true, Open: true}, true
}

// Assumed: see [Mover]. Where the axis lies is in the swing radius, with all that this leans on.
func (settingOff) Assumed(b *Bench, f *indicator.Estimate) indicator.Assumed {
	a := f.Assumed(b.Stated)
	for i := range a {
		a[i].Radius = a[i].Centre
	}
	return a
}

// Room: see [Mover].
func (m settingOff) Room(b *Bench, f *indicator.Estimate) indicator.Room {
	a := m.Assumed(b, f)
	room := b.Target.Room(f, a)
	on, _ := a.Radius()
	if r, ok := m.Swing(b, f); ok && len(on) > 0 {
		room.Radius = b.Target.Tolerance - math.Abs(r.V-b.Target.SwingRadius) - r.U
	}
	return room
}

// Verdicts: see [Mover].
func (m settingOff) Verdicts(b *Bench, f *indicator.Estimate) indicator.Verdicts {
	v := b.Judge(f)
	v.Radius = indicator.Undecided
	if r, ok := m.Swing(b, f); ok {
		v.Radius = indicator.Judge(indicator.Value{V: r.V - b.Target.SwingRadius, U: r.U}, b.Target.Tolerance, 1)
	}
	if b.Holds {
		v = m.Room(b, f).HoldBack(v)
	}
	return v
}
