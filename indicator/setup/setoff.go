package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// settingOff: a swing radius may be set by a machine slide: the spindle is stood over the table's axis, which a sweep in
// the table's bore shows, and carried off it by the radius. No sweep can look at it from there. What the
// sweep knew of the axis and what is known of how far the slide has gone make one swing radius with one
// budget, and that is the verdict.
type settingOff struct{ carriedOff }

// setOff: the spindle stands over the axis, and a slide carries it off by the swing radius.
var setOff = SetUp{Ground: carriedRound, Mover: settingOff{}, Is: func(j *Job) bool {
	return j.Setup.Kind == indicator.Carried && j.Target.SetOff != nil
},
	Example: Job{Setup: indicator.Setup{Kind: indicator.Carried}, Target: Target{SetOff: &SetOff{Slide: "x", Way: slide.Increase}}},
	Words: Words{Name: "carried", Swung: "head", Off: OffWords{Out: "set the swing radius off the axis", Over: "axis"},
		Steps: func(p *Phrases) []string {
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

// RadiusSlide: see [Mover].
func (settingOff) RadiusSlide(b *Bench) (sl slide.Slide, way slide.Way, ok bool) {
	o := b.Job.Target.SetOff
	if o == nil {
		return sl, 0, false
	}
	sl, ok = b.Machine.Slide(o.Slide)
	return sl, o.Way, ok
}

// Swing: see [Mover]. It is the one that the slide has set off the axis, with the doubt of both.
func (m settingOff) Swing(b *Bench, f *indicator.Estimate) (r Swing, ok bool) {
	sl, way, has := m.RadiusSlide(b)
	if !has {
		return r, false
	}
	cross := b.Cross()
	off := b.Off[cross.Of(sl.Name)]
	if off.Winds == 0 {
		return r, false
	}
	along := cross.Unit(cross.Of(sl.Name))
	// Seen from the spindle the axis has gone the other way.
	to := f.Circle.Centre.Sub(along.Times(off.Travel))
	out := along.Times(float64(way))
	axis, travel := f.Part(out).U, expanded(off.Doubt)
	return Swing{Value: indicator.Value{V: to.Norm(), U: math.Hypot(axis, travel)}, Off: true, Axis: axis, Travel: travel}, true
}

// Next: see [Mover].
func (m settingOff) Next(b *Bench, f *indicator.Estimate) Next {
	return thenOff(m.slides.Next(b, f), m, b, f)
}

// nextOff tells how far the slide has still to carry the spindle; more is false where nothing is worth winding.
func (m settingOff) nextOff(b *Bench, f *indicator.Estimate) (w Wind, more bool) {
	sl, way, ok := m.RadiusSlide(b)
	if !ok {
		return w, false
	}
	t := b.Target
	cross := b.Cross()
	along, off := cross.Unit(cross.Of(sl.Name)), b.Off[cross.Of(sl.Name)]
	if off.Winds >= mostOffs {
		return w, false
	}
	// The axis lies e off the spindle: the slide has to go by as much, and by the radius beyond it; what is
	// across counts by its square.
	part, aside := f.Circle.Centre.Dot(along), f.Circle.Centre.Dot(geom.Point{X: -along.Y, Y: along.X})
	goal := part + float64(way)*math.Sqrt(max(0, t.SwingRadius*t.SwingRadius-aside*aside))
	by := goal - off.Travel
	if off.Winds > 0 && math.Abs(by) <= max(t.Tolerance/2, sl.Finest()) {
		return w, false
	}
	return Wind{Step: off.Winds + 1, Of: off.Winds + 1, Wind: b.windOff(sl, by), SetOff: true, Open: true}, true
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
