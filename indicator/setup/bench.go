package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// Bench is what a set-up is asked about: the values of one moment at the machine.
type Bench struct {
	Job     *Job
	Machine *Machine
	// Setup is the job's with what is held or has been found since; Target the job's with the swing radius set beside it
	// where arcs have taught that.
	Setup  indicator.Setup
	Target Target
	// Winds are those since the sweep, newest first; First says that no trial is over yet.
	Winds *Done
	First bool
	// Stands is where the slides are known to stand by their own scales, in the order of the machine's file, and Lessons what
	// the machine has taught.
	Stands  []Stand
	Lessons []Taught
	// Entries are the sweep's so far.
	Entries
	made *Round // of them, once somebody has asked for it
	seen *indicator.Lobes
	// Believed is the swept circle, moved by the winds since, nil before the first of them.
	Believed *indicator.Estimate
	// Looks says that looks may be taken between the winds: the sweep was a coarse one. Looked are where, since the first wind.
	Looks  bool
	Looked []geom.Bearing
	// Off is how far the cross slides have carried the axis off the place where the sweep was taken.
	Off Offs
	// Bezel is what the dial's figures have been shifted by.
	Bezel float64
	// Tail is the risk that a look at the sweep may take now.
	Tail float64
	// Stated are the figures whose limit of error is stated, or has been found since. Holds says that "inside" is held back where
	// too little room is left for those that are not.
	Stated indicator.Stated
	Holds  bool
}

// Taught is what a machine has taught of one slide, and the settings it comes from.
type Taught struct {
	Slide  string       `json:"slide"`
	Lesson slide.Lesson `json:"belief"`
	// From names the journals that it was learnt in, for whoever wants to see the trials.
	From []string `json:"from,omitempty"`
}

// Stand is where a slide is known to stand: what its readout shows, or its collar's count of turns and
// divisions as a length, millimetres.
type Stand struct {
	Known bool
	At    float64
}

// Slot is the place of a slide in the machine's file, and in a list of where slides stand of that length; −1 where it has none.
func (m *Machine) Slot(name string, length int) int {
	for i := range min(len(m.Slides), length) {
		if m.Slides[i].Name == name {
			return i
		}
	}
	return -1
}

// Stand returns where a slide stands by its own scale.
func (b *Bench) Stand(name string) Stand {
	if i := b.Machine.Slot(name, len(b.Stands)); i >= 0 {
		return b.Stands[i]
	}
	return Stand{}
}

// Lesson returns what has been learnt of a slide: of earlier settings, and of this one.
func (b *Bench) Lesson(name string) (slide.Lesson, bool) { return b.Machine.Lesson(name, b.Lessons) }

// Lesson is what the lessons have taught of a slide of the machine, or what is held of it before any.
func (m *Machine) Lesson(name string, lessons []Taught) (slide.Lesson, bool) {
	sl, ok := m.Slide(name)
	for _, l := range lessons {
		if l.Slide != name {
			continue
		}
		if ok {
			return l.Lesson.Facing(sl), true
		}
		return l.Lesson, true
	}
	if ok {
		return slide.Prior(sl), true
	}
	return slide.Lesson{}, false
}

// Judge compares a fitted sweep with the target, as guarded as its place among the looks
// at the sweep asks for.
func (b *Bench) Judge(f *indicator.Estimate) indicator.Verdicts { return b.JudgeAt(f, b.Tail) }

// JudgeAt is Judge for a look that takes another risk.
func (b *Bench) JudgeAt(f *indicator.Estimate, tail float64) indicator.Verdicts {
	v := b.Target.Judge(f, tail)
	if b.Holds {
		v = b.Target.Room(f, f.Assumed(b.Stated)).HoldBack(v)
	}
	return v
}

// moot reports whether a verdict is held back for want of room, and no wind could make enough: the uncertainty u and the finest
// that a slide is set leave too little of the tolerance by themselves.
func (b *Bench) moot(v indicator.Verdict, room, tolerance, u, finest float64) bool {
	return b.Holds && indicator.HeldBack(v, room) && tolerance-u-finest < indicator.LeastRoom
}

// DoubtOf is the standard doubt of where a wind by collar has ended, millimetres.
func (b *Bench) DoubtOf(w slide.Wind) float64 {
	sl, _ := b.Machine.Slide(w.Slide)
	lesson, ok := b.Lesson(w.Slide)
	return advice.DoubtOf(w, sl, lesson, ok)
}

// doubtAlone is that for a wind that no sweep looks at.
func (b *Bench) doubtAlone(w slide.Wind) float64 {
	sl, _ := b.Machine.Slide(w.Slide)
	lesson, ok := b.Lesson(w.Slide)
	return advice.DoubtAlone(w, sl, lesson, ok)
}

// shift is how far locking moves a slide, as far as its machine has shown.
func (b *Bench) shift(sl slide.Slide) float64 {
	lesson, ok := b.Lesson(sl.Name)
	return advice.LockShift(sl, lesson, ok)
}

// byCollar tells a wind by the collar. What its lock is known to move the slide by is left to the lock, where it has stood
// open so far.
func (b *Bench) byCollar(sl slide.Slide, travel float64) slide.Wind {
	lock := 0.0
	if n, _ := b.Winds.Times(sl.Name); b.First && (n == 0 || !b.Looks) {
		lock = b.shift(sl)
	}
	lesson, ok := b.Lesson(sl.Name)
	return advice.ByCollar(sl, travel, lock, lesson, ok)
}

// Cross is the pair of cross slides as they stand, by the machine's file and what the winds have taught.
func (b *Bench) Cross() advice.Cross {
	u := Of(b.Job)
	g := u.Under()
	c := advice.Cross{Names: g.Cross, OnTable: g.Table}
	if !c.OnTable {
		c.MissTurn = b.missTurn()
	}
	if !u.Does().Slides {
		return c // no slide carries the work
	}
	for i, name := range c.Names {
		if l, ok := b.Lesson(name); ok {
			c.Askew[i], c.Doubt[i] = l.Askew()
			c.Askew[i] -= c.MissTurn
		}
	}
	return c
}

// lobes are what the sweep has shown of the reference's form; none by the rules of old, which let nothing pass for it.
func (b *Bench) lobes() *indicator.Lobes {
	if b.seen != nil {
		return b.seen
	}
	b.seen = &indicator.Lobes{}
	r := b.Round()
	if b.Setup.Form.Allowed > 0 && r.Places == nil && !Of(b.Job).Under().Pair {
		if f, err := indicator.Fit(b.Job.Dial, b.Setup, r.Bearings, r.Readings); err == nil {
			*b.seen = f.Lobes(r.Bearings, r.Readings)
		}
	}
	return b.seen
}

// formAt is what the form that was shown adds to a reading at a bearing, and the standard doubt that a stated one leaves there,
// millimetres of reading.
func (b *Bench) formAt(f *indicator.Estimate, at geom.Bearing) (by, doubt float64) {
	return f.Reading(b.lobes(), at), indicator.FromLimit(b.Setup.FormLimit) / math.Abs(b.Job.Dial.Gain())
}

// missTurn is asin(h/R) at the target swing radius; 0 where the machine does not state h, or the job no radius.
func (b *Bench) missTurn() float64 {
	h, t := b.Machine.Miss, b.Job.Target
	if h == 0 || !t.byOffset() || math.Abs(h) > t.SwingRadius {
		return 0
	}
	return math.Asin(h / t.SwingRadius)
}

// Acts is what the needle does for a millimetre of a slide's coordinate where the reference is met at a bearing,
// to first order in the centre error: bore m = (z − d)/g, boss m = (d − z)/g, with d = e·u + ρ. 0 for a slide that is not
// wound.
func (b *Bench) Acts(name string, at geom.Bearing) float64 {
	c := b.Cross()
	a, ok := c.Axis(name)
	if !ok {
		return 0
	}
	return b.Job.Setup.Acts(b.Job.Dial, a[0], geom.Point{X: a[1], Y: a[2]}.Dot(at.Unit()))
}

// Rides reports whether a slide stands on the table that the set-up turns.
func (b *Bench) Rides(sl slide.Slide) bool { return Of(b.Job).Under().Table && slide.Rides(sl.Name) }

// Reached reports whether a slide's handwheel can be reached where the reference is met at a bearing.
func (b *Bench) Reached(sl slide.Slide, at geom.Bearing) bool {
	return !b.Rides(sl) || sl.Reached(b.Job.Setup.Stands(at))
}

// ReachedAt returns the table angle to load a slide at, or to wind it by its collar; ok is false where
// any will do.
func (b *Bench) ReachedAt(sl slide.Slide) (t geom.Bearing, ok bool) {
	if !b.Rides(sl) {
		return 0, false
	}
	return sl.ReachedAt(advice.MarkStep)
}
