package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// Off is how far one slide has carried the axis off the place where the sweep was taken.
type Off struct {
	Winds  int     // since the sweep
	Travel float64 // millimetres of the slide's coordinate
	Doubt  float64 // standard uncertainty of Travel, millimetres
}

// Offs are those of the pair of cross slides, in their order.
type Offs [2]Off

// away reports whether any slide has been wound off the place of the sweep.
func (o *Offs) away() bool { return o[0].Winds > 0 || o[1].Winds > 0 }

// carriedOff is a mover whose cross slides, once the axis stands over what is swept, carry it off by a way that is known and
// that no sweep can look at.
type carriedOff struct{ slides }

// mostOffs bounds how often a slide is sent to one place off the sweep's.
const mostOffs = 2

// Wound: see [Mover]. It takes in a wind off the place of the sweep, or back to it. A readout says where the slide stands,
// whatever way it has come; by the collar every wind adds its own doubt.
func (carriedOff) Wound(b *Bench, w *Wind, at *float64) (o Offs, ok bool) {
	cross := b.Cross()
	i := cross.Of(w.Wind.Slide)
	sl, has := b.Machine.Slide(w.Wind.Slide)
	if !w.SetOff || i < 0 || !has {
		return o, false
	}
	o = b.Off
	if w.Back {
		o[i] = Off{}
		return o, true
	}
	was := b.Off[i]
	now := Off{Winds: was.Winds + 1, Travel: was.Travel + w.Wind.Travel}
	if at != nil {
		now.Travel = was.Travel + *at - b.Stand(sl.Name).At
	}
	if step := sl.ReadoutStep(); sl.Readout {
		now.Doubt = math.Hypot(advice.ShownDoubt(step, true), advice.ShownDoubt(step, at != nil))
		now.Doubt = math.Hypot(now.Doubt, indicator.FromLimit(b.statedScale()*math.Abs(now.Travel)))
	} else {
		now.Doubt = math.Hypot(was.Doubt, b.doubtOff(w.Wind, sl))
	}
	if sl.Lock && at == nil {
		now.Doubt = math.Hypot(now.Doubt, indicator.FromLimit(advice.LockLimit))
	}
	o[i] = now
	return o, true
}

// GoesTo: see [Mover].
func (carriedOff) GoesTo(b *Bench, w *Wind) bool {
	sl, _ := b.Machine.Slide(w.Wind.Slide)
	return w.SetOff && sl.Readout
}

// Back: see [Mover]. It leads over what is swept, one slide after the other.
func (carriedOff) Back(b *Bench) (w Wind, ok bool) {
	cross := b.Cross()
	for i, name := range cross.Names {
		sl, has := b.Machine.Slide(name)
		if !has || b.Off[i].Winds == 0 {
			continue
		}
		if w.Of++; !ok {
			w = Wind{Step: 1, Of: 1, Wind: b.windOff(sl, -b.Off[i].Travel), Table: b.reachedFrom(sl), SetOff: true, Back: true, Open: true}
			ok = true
		}
	}
	return w, ok
}

// windOff tells a wind off the place of the sweep: by what the screw has taught, but where it is stated how right it is as it
// stands.
func (b *Bench) windOff(sl slide.Slide, travel float64) slide.Wind {
	if b.Stated.Has(indicator.OfSlides) {
		return sl.Wind(travel)
	}
	return b.byCollar(sl, travel)
}

// doubtOff is the standard doubt of where that has ended by the collar: the hand sets it at both ends.
func (b *Bench) doubtOff(w slide.Wind, sl slide.Slide) float64 {
	if b.Stated.Has(indicator.OfSlides) {
		return math.Hypot(indicator.FromLimit(b.statedScale()*math.Abs(w.Travel)), advice.HandDoubt(sl)*math.Sqrt2)
	}
	return b.doubtAlone(w)
}

// statedScale bounds how far the slides are out, as a part of their way; 0 where nobody has said.
func (b *Bench) statedScale() float64 {
	if a := b.Job.About; a != nil {
		return a.SlidePer100 / 100
	}
	return 0
}

// reachedFrom is the table angle at which the handwheel of a slide can be reached, nil where any will do.
func (b *Bench) reachedFrom(sl slide.Slide) *geom.Bearing {
	if t, some := b.ReachedAt(sl); some {
		return &t
	}
	return nil
}

// expanded is the expanded uncertainty of what is known to a standard doubt.
func expanded(doubt float64) float64 { return fit.Coverage(math.Inf(1)) * doubt }

// carrying is a mover that carries the axis, or the spindle, off once the slides have brought it in.
type carrying interface {
	nextOff(b *Bench, f *indicator.Estimate) (w Wind, more bool)
	Verdicts(b *Bench, f *indicator.Estimate) indicator.Verdicts
}

// thenOff is what comes next where n is all that bringing it in has left to do.
func thenOff(n Next, m carrying, b *Bench, f *indicator.Estimate) Next {
	if n.Wind != nil || n.Sweep {
		return n
	}
	if w, more := m.nextOff(b, f); more {
		return Next{Wind: &w}
	}
	return Next{Settled: m.Verdicts(b, f)}
}
