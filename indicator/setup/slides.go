package setup

import (
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// slides is the usual mover: two cross slides carry the spindle over the work, or the work over the table's axis, and the
// offset slide sets the radius, under the needle where that can be watched.
type slides struct{}

// Does: see [Mover].
func (slides) Does() MoverFacts {
	return MoverFacts{Slides: true, Loads: true, Teaches: true, Plain: true, Cuts: true}
}

// Needs: see [Mover].
func (slides) Needs(j *Job) []string {
	c := Of(j).Under().Cross
	return offsetLast(j, c[:])
}

// offsetLast adds the offset slide where the sweep shows the radius that it sets.
func offsetLast(j *Job, cross []string) []string {
	if j.Target.sweepsSwing() {
		return append(cross[:len(cross):len(cross)], "offset")
	}
	return cross
}

// Tasks lists what is asked of each slide where the circle stands as f says, cross slides first,
// the offset slide last; v is what the sweep has proven. What the cross slides have to do, [advice.Cross] says.
func (b *Bench) Tasks(f *indicator.Estimate, v indicator.Verdicts) []advice.Task {
	t, c := b.Target, b.Cross()
	room := t.Room(f, f.Assumed(b.Stated))
	var out []advice.Task
	for _, name := range b.Job.Needs() {
		sl, ok := b.Machine.Slide(name)
		if !ok {
			continue
		}
		e := advice.Task{Slide: sl, Half: t.CentreTolerance / 2, Verdict: v.Centre}
		if i := c.Of(name); i >= 0 {
			e.Travel = f.Part(c.Row(i))
			e.Moot = b.moot(v.Centre, room.Centre, t.CentreTolerance, f.OffAtMost().U, sl.Finest())
		} else {
			r := f.Swing()
			e.Travel = indicator.Value{V: t.SwingRadius - r.V, U: r.U}
			e.Half, e.Verdict = t.Tolerance/2, v.Radius
			e.Moot = b.moot(v.Radius, room.Radius, t.Tolerance, r.U, sl.Finest())
		}
		out = append(out, e)
	}
	return out
}

// park tells a wind under the needle where that can be watched, else by the collar; c is what is known of the circle now.
func (b *Bench) park(c *indicator.Estimate, sl slide.Slide, by indicator.Value) (slide.Wind, *advice.Park) {
	cross := b.Cross()
	if a, ok := cross.Axis(sl.Name); ok && !sl.ByCollar && c.Dof > 0 {
		p := advice.Parking{Dial: b.Job.Dial, Circle: c, Slide: sl, Axis: a, By: by, Shift: b.shift(sl),
			Marks:   b.Job.Sweep.Marks(advice.MarkStep),
			Form:    func(at geom.Bearing) float64 { by, _ := b.formAt(c, at); return by },
			Reached: func(at geom.Bearing) bool { return b.Reached(sl, at) }}
		if w, park := p.Place(); park != nil {
			return w, park
		}
	}
	return b.byCollar(sl, by.V), nil
}

// believed is what is known of the circle now: the sweep's, and the winds since.
func (b *Bench) believed(f *indicator.Estimate) indicator.Estimate {
	if b.Believed != nil {
		return *b.Believed
	}
	return *f
}

// Next: see [Mover]. What a slide has to do is asked of what is known now: a slide that was stopped beside its goal moves the
// goals of those behind it.
func (s slides) Next(b *Bench, f *indicator.Estimate) Next {
	v := b.Judge(f)
	c := b.believed(f)
	now := b.Tasks(&c, v)
	var next, blind *advice.Task
	left, done := 0, 0
	for _, planned := range advice.Worthwhile(b.Tasks(f, v), v) {
		e := advice.Find(now, planned.Slide.Name)
		n, last := b.Winds.Times(e.Slide.Name)
		switch done += n; {
		case n == 0 || e.Short(n, last.Reading != nil || len(b.Looked) > 0):
			if left++; next == nil {
				next = e
			}
		case b.blind(&c, e, n, last, planned.Travel.U): // after the others: a long wind carries the other slides' place along a little
			if left++; blind == nil {
				blind = e
			}
		}
	}
	if b.Looks && b.Winds != nil && (next == nil || b.Winds.has(next.Slide.Name)) {
		if at, ok := b.look(&c); ok {
			return Next{Look: &at}
		}
	}
	if next == nil {
		next = blind
	}
	switch {
	case next == nil && b.Winds != nil:
		return Next{Sweep: true}
	case next == nil:
		return Next{Settled: v}
	}
	w, park := b.park(&c, next.Slide, next.Travel)
	told := Wind{Step: done + 1, Of: done + left, Wind: w, Park: park, Open: true}
	if t, some := b.ReachedAt(next.Slide); some && park == nil {
		told.Table = &t
	}
	return Next{Wind: &told}
}

// look is where the needle is read once more, before slides are wound again; ok is false where that would say no more than the
// next sweep needs.
func (b *Bench) look(c *indicator.Estimate) (at geom.Bearing, ok bool) {
	tolerance := b.Target.CentreTolerance
	if t := b.Target.Tolerance; t > 0 && (t < tolerance || !(tolerance > 0)) {
		tolerance = t
	}
	return advice.Between(c, b.Job.Dial, b.Looked, tolerance, b.Job.Sweep.Marks(advice.MarkStep))
}

// Seen is what is known of the circle once the needle has been read at a bearing between two winds. ok is false of a reading that is
// farther from what was to be expected than chance allows: it may be a misread, and is not gone by.
func (b *Bench) Seen(f indicator.Estimate, at geom.Bearing, reading float64) (seen indicator.Estimate, ok bool) {
	form, open := b.formAt(&f, at)
	x := f.Expect(at)
	off := math.Abs(reading - form - x.V)
	if band := math.Hypot(x.U, 2*open) * fit.Student(1-surpriseAlarm/2, f.Dof) / fit.Coverage(f.Dof); !(off <= band) {
		return f, false
	}
	return f.Seen(at, reading-form, open), true
}

// blind reports whether a slide that was wound n times, last as told, is brought in under the needle once more because so
// much is open of where it stands.
func (b *Bench) blind(c *indicator.Estimate, e *advice.Task, n int, last *Done, swept float64) bool {
	if n != 1 || e.Slide.ByCollar || (last.Park != nil && last == b.Winds) || !e.Blind(last.Park != nil, swept) {
		return false
	}
	_, park := b.park(c, e.Slide, e.Travel)
	return park != nil
}

// After: see [Mover].
func (slides) After(b *Bench, f indicator.Estimate, d *Done, c *advice.Cross) (indicator.Estimate, bool) {
	a, ok := c.Axis(d.Wind.Slide)
	if !ok {
		return f, false
	}
	doubt := b.DoubtOf(d.Wind)
	aside, askew := c.Aside(d.Wind.Slide)
	askew *= math.Abs(d.Wind.Travel)
	if d.Park == nil {
		f = f.Moved(a, d.Wind.Travel, doubt)
	} else {
		f = f.Moved(a, d.Wind.Travel+d.Park.Shift, math.Hypot(doubt, advice.ParkDoubt))
	}
	if askew > 0 {
		f = f.Moved(aside, 0, askew)
	}
	if d.Park != nil {
		sl, _ := b.Machine.Slide(d.Wind.Slide)
		stop, extra := d.Park.Goal+d.Park.Shift*d.Park.Act, math.Abs(d.Park.Act)*advice.HandDoubt(sl)
		if d.Reading != nil {
			stop, extra = *d.Reading, 0
		}
		form, open := b.formAt(&f, d.Park.Bearing)
		f = f.Seen(d.Park.Bearing, stop-form+(b.Bezel-d.Bezel), math.Hypot(extra, open))
	}
	return f, true
}

// GoesTo: see [Mover].
func (slides) GoesTo(*Bench, *Wind) bool { return false }

// Wound: see [Mover].
func (slides) Wound(*Bench, *Wind, *float64) (o Offs, ok bool) { return o, false }

// Back: see [Mover].
func (slides) Back(*Bench) (w Wind, ok bool) { return w, false }

// Verdicts: see [Mover].
func (slides) Verdicts(b *Bench, f *indicator.Estimate) indicator.Verdicts { return b.Judge(f) }

// Assumed: see [Mover].
func (slides) Assumed(b *Bench, f *indicator.Estimate) indicator.Assumed { return f.Assumed(b.Stated) }

// Room: see [Mover].
func (slides) Room(b *Bench, f *indicator.Estimate) indicator.Room {
	return b.Target.Room(f, f.Assumed(b.Stated))
}

// Swing: see [Mover].
func (slides) Swing(_ *Bench, f *indicator.Estimate) (Swing, bool) {
	r := f.Swing()
	return Swing{Value: r}, r.Known()
}

// RadiusSlide: see [Mover].
func (slides) RadiusSlide(b *Bench) (sl slide.Slide, way slide.Way, ok bool) {
	sl, ok = b.Machine.Slide("offset")
	return sl, slide.Increase, ok
}

// Standing: see [Mover].
func (slides) Standing(_ *Bench, f *indicator.Estimate) (indicator.Estimate, bool) { return *f, true }

// Goal: see [Mover].
func (slides) Goal(*Bench) *geom.Point { return nil }

// Away: see [Mover].
func (slides) Away(*Bench, *indicator.Estimate) (a Away, ok bool) { return a, false }

// Pushes are what winds should have done to the circle, in the order in which they were wound.
func (b *Bench) Pushes(winds *Done) (out []advice.Pushed) {
	c := b.Cross()
	for d := winds; d != nil; d = d.Before {
		a, ok := c.Axis(d.Wind.Slide)
		if !ok {
			continue
		}
		travel := d.Wind.Travel
		u := math.Hypot(b.DoubtOf(d.Wind), advice.ScrewDoubt*math.Sqrt2)
		if d.Park != nil {
			travel += d.Park.Shift
			u = math.Hypot(u, advice.ParkDoubt)
			if k := d.Park; d.Reading != nil && k.Act != 0 {
				travel += (*d.Reading-k.Goal)/k.Act - k.Shift
				u = advice.NeedleDoubt
			}
		}
		aside, askew := c.Aside(d.Wind.Slide)
		p := advice.Push(d.Wind.Slide, a, aside, travel, u, askew, d.Reading != nil)
		p.Watched = d.Park != nil && d.Reading == nil
		out = append(out, p)
	}
	slices.Reverse(out)
	return out
}
