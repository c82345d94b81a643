package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// going is the mover of a circle that was touched: the slides go to the centre by their readouts, and how far that is depends
// on where the spindle stands: where it touched last, or where a person has said since. Nothing can be swept from there; what
// is known of the centre, and how near to it the spindle has been stopped, is the answer.
type going struct{ slides }

// mostGoes bounds how often a slide is sent to one centre: stopped beside it twice, it is time to touch again.
const mostGoes = 2

// Does: see [Mover]. Touching goes both ways, and the readout shows where: nothing is loaded.
func (going) Does() MoverFacts { return MoverFacts{Slides: true, Stands: true} }

// Next: see [Mover].
func (m going) Next(b *Bench, swept *indicator.Estimate) Next {
	f, ok := m.Standing(b, swept)
	if !ok {
		return Next{Settled: indicator.Verdicts{Centre: indicator.Undecided}}
	}
	v := b.Judge(&f)
	var next *slide.Wind
	done, left := 0, 0
	for i, name := range b.Job.Needs() {
		sl, _ := b.Machine.Slide(name)
		row := [2]geom.Point{{X: 1}, {Y: 1}}[i]
		n, _ := b.Winds.Times(name)
		done += n
		e := advice.Task{Slide: sl, Travel: f.Part(row), Half: b.Job.Target.CentreTolerance / 2, Verdict: v.Centre}
		switch {
		case n >= mostGoes, v.Centre == indicator.Inside, !(math.Abs(e.Travel.V) > b.leastGo(sl)):
			continue
		case n > 0 && !e.Worth():
			continue
		}
		if left++; next == nil {
			w := sl.Wind(e.Travel.V)
			next = &w
		}
	}
	if next == nil {
		return Next{Settled: indicator.Verdicts{Centre: v.Centre}}
	}
	return Next{Wind: &Wind{Step: done + 1, Of: done + left, Wind: *next, Open: true}}
}

// leastGo is the least that a slide is sent: what its readout shows, or what a hand can set by the collar.
func (b *Bench) leastGo(sl slide.Slide) float64 {
	if sl.Readout {
		return b.Job.Dial.ReadsTo * b.Job.Dial.Graduation / 2
	}
	return sl.Finest()
}

// Standing: see [Mover]. It is not known where one of the readouts is not.
func (going) Standing(b *Bench, _ *indicator.Estimate) (indicator.Estimate, bool) {
	t, err := b.Located()
	x, y := b.Stand("x"), b.Stand("y")
	if err != nil || !x.Known || !y.Known {
		return indicator.Estimate{}, false
	}
	return t.From(geom.Point{X: x.At, Y: y.At}, geom.Point{X: b.standDoubt("x"), Y: b.standDoubt("y")}), true
}

// standDoubt is the standard doubt of where a slide stands: that of the step in which a coordinate is shown,
// where somebody has read it there; of a step either way where a hand has gone to a told coordinate; by
// the collar that of the wind, and of the play, whose side nobody knows after touching both ways.
func (b *Bench) standDoubt(name string) float64 {
	step := b.Job.Dial.ReadsTo * b.Job.Dial.Graduation
	n, d := b.Winds.Times(name)
	sl, _ := b.Machine.Slide(name)
	switch {
	case n == 0 || d.At != nil || sl.Readout:
		return advice.ShownDoubt(step, n == 0 || d.At != nil)
	}
	return math.Hypot(b.DoubtOf(d.Wind), indicator.FromLimit(sl.Backlash))
}

// After: see [Mover]. Where the spindle stands says it all.
func (going) After(_ *Bench, f indicator.Estimate, _ *Done, _ *advice.Cross) (indicator.Estimate, bool) {
	return f, false
}

// GoesTo: see [Mover].
func (going) GoesTo(*Bench, *Wind) bool { return true }

// Verdicts: see [Mover]. They are on where the spindle stands.
func (m going) Verdicts(b *Bench, swept *indicator.Estimate) indicator.Verdicts {
	f, ok := m.Standing(b, swept)
	if !ok {
		return indicator.Verdicts{Centre: indicator.Undecided}
	}
	return b.Judge(&f)
}

// Goal: see [Mover].
func (going) Goal(b *Bench) *geom.Point {
	t, err := b.Located()
	if err != nil {
		return nil
	}
	return &t.Centre
}
