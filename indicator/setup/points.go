package setup

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
	"example.org/trammel/indicator"
)

// touched is a ground where a station is a place at which a tip was touched to the circle, and its answer the two
// coordinates that the readouts showed. A round of them says where the circle's centre lies in the readouts' own frame.
type touched struct{}

// points: the circle is touched, and the slides go to its centre.
var points = SetUp{Ground: touched{}, Mover: going{}, Is: func(j *Job) bool { return j.Setup.Kind == indicator.Points },
	Example: Job{Setup: indicator.Setup{Kind: indicator.Points}},
	Words: Words{Name: "points", Swung: "head", Steps: func(p *Phrases) []string {
		return []string{
			fmt.Sprintf("1  edge finder or probe in the spindle; its tip is %s across", p.Tip),
			"2  zero the readouts anywhere, and leave them so until the centre is reached",
			"3  lock quill and knee; touch each time at the same height",
			"4  touch " + p.Touching + " at places spread all round, square to the wall, and type x y as the readouts show them; " +
				"the tip's own radius is allowed for",
		}
	}},
}

// Under: see [Ground].
func (touched) Under() GroundFacts {
	return GroundFacts{Pair: true, Cross: [2]string{"x", "y"}}
}

// Located fits the circle to the round's points; errors are those of [indicator.Setup.Locate].
func (b *Bench) Located() (indicator.Touched, error) { return b.located(b.Round().At) }

func (b *Bench) located(at []geom.Point) (indicator.Touched, error) {
	return b.Job.Setup.Locate(b.Job.Dial, at)
}

// Fit: see [Ground]. The circle is seen from its own centre. Errors are those of [indicator.Setup.Locate].
func (touched) Fit(of *Job, _ indicator.Setup, all Entries) (indicator.Estimate, error) {
	t, err := of.Setup.Locate(of.Dial, all.round().At)
	return t.Found, err
}

// Seen: see [Ground]. The points are as the circle's centre sees them.
func (touched) Seen(b *Bench, _ *indicator.Estimate) ([]geom.Bearing, []float64) {
	t, err := b.Located()
	if err != nil {
		return nil, nil
	}
	return t.Bearings, t.Distances
}

// Entered: see [Ground]. A point is compared with the circle of the others; nothing is expected of it.
func (touched) Entered(of *Job, others Entries, e Entry, _ Expected) Judged {
	j := Judged{WouldBe: math.NaN(), OffBy: indicator.Value{V: math.NaN(), U: math.NaN()}}
	at := others.round().At
	t, err := of.Setup.Locate(of.Dial, at)
	if len(at) < fit.MinPlaces || err != nil || t.Found.Dof <= 0 {
		return j
	}
	f := &t.Found
	x := f.Expect(e.At.Sub(t.Centre).Bearing())
	j.OffBy = indicator.Value{V: t.Residual(e.At), U: x.U}
	band := x.U * fit.Student(1-surpriseAlarm/2, f.Dof) / fit.Coverage(f.Dof)
	if j.Surprise = math.Abs(j.OffBy.V) > band; j.Surprise {
		j.Because = indicator.UnknownCause
		if _, ok := signTurned(&t, e.At, x.U); ok {
			j.Because = indicator.SignTurned
		}
	}
	return j
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

// Suspects: see [Ground].
func (touched) Suspects(b *Bench, f *indicator.Estimate) []indicator.Outlier {
	t, err := b.Located()
	if err != nil {
		return nil
	}
	out := f.Suspects(t.Bearings, t.Distances)
	for i := range out {
		out[i].Because, out[i].WouldBe = indicator.UnknownCause, math.NaN() // a distance is nobody's entry
	}
	return out
}

// Doubted: see [Ground]. Where the linear test calls an alarm, a point far off may have bent the circle towards itself: which
// of them it is, the circles that leave out one at a time say.
func (touched) Doubted(b *Bench, _ *indicator.Estimate, settled func(int) bool) (d Doubt, ok bool) {
	t, err := b.Located()
	if err != nil || len(t.Found.Suspects(t.Bearings, t.Distances)) == 0 {
		return d, false
	}
	all := b.Round().At
	least, which := math.Inf(1), -1
	for i := range all {
		if u, err := b.located(without(all, i)); err == nil && u.Found.Circle.SSR < least {
			least, which = u.Found.Circle.SSR, i
		}
	}
	if which < 0 || settled(which) {
		return d, false
	}
	d = Doubt{Index: which, Because: indicator.UnknownCause}
	if u, err := b.located(without(all, which)); err == nil && u.Found.Dof > 0 {
		if q, ok := signTurned(&u, all[which], u.Found.Expect(all[which].Sub(u.Centre).Bearing()).U); ok {
			d.Because, d.At = indicator.SignTurned, &q
		}
	}
	return d, true
}

// Form: see [Ground].
func (touched) Form(b *Bench, _ *indicator.Estimate) (indicator.Roundness, error) {
	if n := len(b.Round().At); n < indicator.MinProfile {
		return indicator.Roundness{}, fmt.Errorf("%d points, need at least %d", n, indicator.MinProfile)
	}
	l, err := indicator.Locate(b.Job.Dial, b.Round().At)
	if err != nil {
		return indicator.Roundness{}, err
	}
	return l.Roundness(b.Round().At, b.Job.Setup.Touch)
}
