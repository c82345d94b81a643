package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// collarWay is a wind by the collar as the needle would see it: the circle where it begins, where the slide is backed off farthest,
// and where it ends; doubt is the standard one of where it ends, millimetres.
type collarWay struct {
	at    []indicator.Estimate
	doubt float64
}

// way is that of a wind; ok is false of a slide that this set-up does not wind. Backing off is taken at its farthest, as if there
// were no backlash: what there truly is nobody knows before it has been learnt.
func (b *Bench) way(f *indicator.Estimate, w slide.Wind) (way collarWay, ok bool) {
	c, u := b.Cross(), Of(b.Job)
	sl, _ := b.Machine.Slide(w.Slide)
	ends, ok := u.After(b, *f, &Done{Wind: w}, &c)
	if !ok {
		return way, false
	}
	way = collarWay{[]indicator.Estimate{*f, ends}, b.DoubtOf(w)}
	if len(w.Moves) > 1 {
		back := w
		back.Travel -= float64(sl.TakeUp) * sl.Past()
		farthest, _ := u.After(b, *f, &Done{Wind: back}, &c)
		way.at = append(way.at, farthest)
	}
	return way, true
}

// shows reports whether the needle is on the dial at a bearing for certain where a circle stands as f says. Of one whose doubt is not
// known only the wind's counts.
func (b *Bench) shows(f *indicator.Estimate, at geom.Bearing, doubt float64) bool {
	x := f.Expect(at)
	form, _ := b.formAt(f, at)
	if math.IsNaN(x.U) {
		x.U = fit.Coverage(math.Inf(1)) * doubt
	}
	return advice.OnDial(b.Job.Dial, x.V+form, x.U)
}

// Stays reports whether the needle stays on the dial all along a wind by the collar, give or take what is open of it, where the
// reference is met at a bearing; f is what is known of the circle now.
func (b *Bench) Stays(f *indicator.Estimate, w slide.Wind, at geom.Bearing) bool {
	way, ok := b.way(f, w)
	return ok && b.stays(&way, at)
}

func (b *Bench) stays(way *collarWay, at geom.Bearing) bool {
	for i := range way.at {
		if !b.shows(&way.at[i], at, way.doubt) {
			return false
		}
	}
	return true
}

// StaysAt is the nearest place to swing to where the needle stays on the dial all along a wind by the collar, and on the way there;
// ok is false where there is none, or where it is not known how sure the circle is.
func (b *Bench) StaysAt(f *indicator.Estimate, w slide.Wind, from geom.Bearing) (at geom.Bearing, ok bool) {
	way, ok := b.way(f, w)
	if !ok || !(f.Dof > 0) || !b.Job.Sweep.Full() || Of(b.Job).Under().Table {
		return 0, false
	}
	const half = math.Pi
	var gone [2]bool // that way round the needle has left the dial
	for by := advice.MarkStep; by < half+advice.MarkStep/2; by += advice.MarkStep {
		for i, to := range [2]geom.Bearing{from + by, from - by} {
			if gone[i] = gone[i] || !b.shows(f, to, 0); !gone[i] && b.stays(&way, to) {
				return to.Normalized(), true
			}
		}
	}
	return 0, false
}
