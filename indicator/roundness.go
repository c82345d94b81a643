package indicator

import (
	"errors"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/geom/fit"
)

// MinProfile is the fewest distinct stations that the form of a reference is judged by. Three of
// them go into the circle's radius and centre; what five leave is the sweep's own spread and little
// else.
const MinProfile = 6

// ErrNoRadius: a profile is made of whole radii, or it is bent (see [fit.ProfilePoints]).
var ErrNoRadius = errors.New("no radius is known, need the reference's radius or the zero radius")

// FormCircle is one of the four reference circles of a surface. Lengths are millimetres; the
// centre is seen from the axis, or in the coordinates' own frame.
type FormCircle struct {
	fit.ReferenceCircle
	// Noise is the departure that readings of the stated repeatability would show on a true circle,
	// on average: none of it is the surface's. NaN where no repeatability is stated. It stands beside every
	// departure, for six readings that repeat to 3 µm depart by 5 to 7 µm from a true circle.
	Noise float64
}

// Spot is a place of a profile, and how far it stands off the least-squares circle, millimetres. At
// is seen from the axis, of coordinates from the least-squares centre.
type Spot struct {
	Index     int // of the reading, from 0
	At        geom.Bearing
	Departure float64
}

// Roundness is what the readings show of the reference's form.
//
// They show it at their own stations only, and the swing's or the table's own error of rotation
// looks like the reference's. The departure of the minimum zone is a lower bound of the surface's
// true one, but for the readings' spread, which adds to it: see [FormCircle.Noise]; those of the other three
// circles are none.
//
// LSC, MZC, MCC and MIC are the older abbreviations, to which ISO 12181-1 adds an I (from memory).
type Roundness struct {
	LeastSquares, MinimumZone, MinimumCircumscribed, MaximumInscribed FormCircle
	// Peak is where the metal stands proud of the least-squares circle most (in a bore towards the
	// centre), Valley where it lies back most; their Departures are not below 0. Common practice,
	// no source.
	Peak, Valley Spot
	// Profile is every reading's place, its Departure outwards from the least-squares circle.
	Profile []Spot
	// Places is how many distinct stations there are, and Lobes the most lobes that they are sure to
	// show: with stations up to g apart, fewer than π/g, for of just so many each station may meet
	// the middle between high and low. Source: the sampling theorem.
	Places, Lobes int
}

// Roundness judges the form of a swept reference by the readings that were fitted. It returns
// [ErrNoRadius], a *[fit.TooFewError] below MinProfile distinct stations, and the errors of
// [fit.Roundness].
func (f *Estimate) Roundness(bearings []geom.Bearing, readings []float64) (Roundness, error) {
	if f.Circle.Sought == fit.MeanReading {
		return Roundness{}, ErrNoRadius
	}
	places, gap := spacing(bearings)
	if places < MinProfile {
		return Roundness{}, &fit.TooFewError{Have: places, Need: MinProfile}
	}
	// The ball's centre runs on a curve that keeps the ball's radius from the surface: the same
	// departures about the same centres.
	zero := -f.Circle.Ball
	if f.Circle.Sought == fit.ZeroDistance {
		zero += f.Circle.Level
	}
	radii := make([]float64, len(readings))
	for i, m := range readings {
		radii[i] = zero + f.distance(m)
	}
	r, err := judgeForm(fit.ProfilePoints(bearings, radii), f.Setup.Touch, f.noise(bearings), places, gap)
	if err != nil {
		return r, err
	}
	for _, c := range r.circles() {
		c.Radius += f.Circle.Ball
	}
	for i, b := range bearings {
		r.Profile[i].At = b.Normalized()
	}
	r.Peak.At, r.Valley.At = r.Profile[r.Peak.Index].At, r.Profile[r.Valley.Index].At
	return r, nil
}

// Roundness judges the form of a circle by the points touched on it; touch says on which side of
// the surface the metal is. It returns a *[fit.CoincidentError] below MinProfile distinct places,
// and the errors of [fit.Roundness].
func (l *Located) Roundness(points []geom.Point, touch Touch) (Roundness, error) {
	bearings := make([]geom.Bearing, len(points))
	for i, p := range points {
		bearings[i] = p.Sub(l.Circle.Centre).Bearing()
	}
	places, gap := spacing(bearings)
	if places < MinProfile {
		return Roundness{}, &fit.CoincidentError{Have: places, Need: MinProfile}
	}
	return judgeForm(points, touch, l.repeats, places, gap)
}

// judgeForm finds the four circles of a profile; noise is the standard deviation of one of its
// radii, NaN where it is not known.
func judgeForm(points []geom.Point, touch Touch, noise float64, places int, gap float64) (r Roundness, err error) {
	q, err := fit.Roundness(points)
	if err != nil {
		return r, err
	}
	r.Places, r.Lobes = places, int(math.Ceil(math.Pi/gap-1e-6))-1
	factor := noiseFactors(places)
	for i, c := range []fit.ReferenceCircle{q.LeastSquares, q.MinimumZone, q.MinimumCircumscribed, q.MaximumInscribed} {
		*r.circles()[i] = FormCircle{c, noise * factor[i]}
	}
	for i, p := range points {
		p = p.Sub(q.LeastSquares.Centre)
		out := p.Norm() - q.LeastSquares.Radius
		r.Profile = append(r.Profile, Spot{i, p.Bearing(), out})
		proud := touch.sign() * out
		if proud > r.Peak.Departure {
			r.Peak = Spot{i, p.Bearing(), proud}
		}
		if -proud > r.Valley.Departure {
			r.Valley = Spot{i, p.Bearing(), -proud}
		}
	}
	return r, nil
}

func (r *Roundness) circles() []*FormCircle {
	return []*FormCircle{&r.LeastSquares, &r.MinimumZone, &r.MinimumCircumscribed, &r.MaximumInscribed}
}

// noise is the standard deviation of a distance by the stated repeatability, what the stations'
// angles add to it included; NaN where none is stated. The spread of the same sweep is no measure:
// the reference's form is in it.
func (f *Estimate) noise(bearings []geom.Bearing) float64 {
	p := f.Dial.prior()
	if p.Dof <= 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, b := range bearings {
		sum += f.growth(b)
	}
	return p.Sigma * math.Sqrt(sum/float64(len(bearings)))
}

// spacing counts bearings that differ by more than a millionth of a degree, and returns the widest
// gap between neighbours, radians.
func spacing(bearings []geom.Bearing) (distinct int, gap float64) {
	const same = 1e-6 * geom.Degree
	turns := make([]float64, 0, len(bearings))
	for _, b := range bearings {
		turns = append(turns, float64(b.Normalized()))
	}
	slices.Sort(turns)
	for i, t := range turns {
		next := turns[0] + 2*math.Pi
		if i+1 < len(turns) {
			next = turns[i+1]
		}
		if next-t > float64(same) {
			distinct++
		}
		gap = max(gap, next-t)
	}
	return distinct, gap
}

// noiseRows are the departures of n equally spaced radii of a true circle that stray by a normal
// deviate of standard deviation 1: averages of simulated profiles, good to one in the last place up to 12
// and to 1 % beyond (TestNoiseFactors). In the order of [Roundness.circles].
//
// The inscribed circle of an even number is the worst, for it rests on three points and may slip
// out between them.
var noiseRows = []struct {
	n      float64
	factor [4]float64
}{
	{6, [4]float64{1.85, 1.59, 1.92, 2.23}},
	{7, [4]float64{2.12, 1.84, 2.23, 2.23}},
	{8, [4]float64{2.34, 2.05, 2.35, 2.56}},
	{9, [4]float64{2.51, 2.21, 2.58, 2.58}},
	{10, [4]float64{2.67, 2.36, 2.65, 2.81}},
	{11, [4]float64{2.80, 2.48, 2.82, 2.82}},
	{12, [4]float64{2.91, 2.59, 2.87, 3.00}},
	{16, [4]float64{3.26, 2.93, 3.20, 3.29}},
	{24, [4]float64{3.70, 3.36, 3.60, 3.67}},
	{64, [4]float64{4.62, 4.28, 4.49, 4.51}},
	{256, [4]float64{5.61, 5.25, 5.43, 5.42}},
	{1000, [4]float64{6.42, 6.18, 6.31, 6.35}},
}

// noiseFactors interpolates the rows linearly in ln n; outside them the first and the last hold.
func noiseFactors(n int) [4]float64 {
	last := noiseRows[0]
	for _, row := range noiseRows {
		if float64(n) <= row.n {
			if row.n == last.n {
				return row.factor
			}
			t := math.Log(float64(n)/last.n) / math.Log(row.n/last.n)
			for i := range row.factor {
				row.factor[i] = float64((1-t)*last.factor[i]) + float64(t*row.factor[i])
			}
			return row.factor
		}
		last = row
	}
	return last.factor
}
