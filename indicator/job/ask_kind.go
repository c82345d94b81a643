package job

import (
	"math"
	"slices"
	"strconv"

	"example.org/trammel/indicator"
)

// near is how close two figures are that somebody typed as one, in either unit: less than any gauge is known to.
const near = 1e-6

func sameFigure(x, y float64) bool { return math.Abs(x-y) < near }

// typedAs is a figure as it would be typed; it came out of millimetres and may be a rounding off.
func typedAs(v float64) string {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'f', 6, 64), 64)
	return decimal(v)
}

// halfOf is the radius of a diameter.
func halfOf(d float64) string { return typedAs(d / 2) }

// handKeys are what is at hand for a touch.
var handKeys = [...]string{indicator.Bore: Rings, indicator.Boss: Plugs}

// across are the diameters at hand for a touch's word in a file, in the job's unit.
func (a *answers) across(touch string) (out []float64) {
	var t indicator.Touch
	if t.UnmarshalText([]byte(touch)) != nil {
		return nil
	}
	all, _ := a.hand(handKeys[t])
	for _, mm := range all {
		out = append(out, a.unit().From(mm))
	}
	return out
}

// radiiAtHand are the radii of the rings or plugs at hand that may be what is touched, in the order of [Hand], else as they are kept;
// nil for none, and for a pin, which is none of them.
func (a *answers) radiiAtHand() (out []string) {
	s := surfaceOf(a.typed("setup.touch"))
	if s.atHand == "" {
		return nil
	}
	sizes := a.across(s.touch)
	if h := atHand(a); h != nil {
		sizes = nil
		for _, one := range h.All {
			sizes = append(sizes, one.Diameter)
		}
	}
	for _, d := range sizes {
		out = append(out, halfOf(d))
	}
	return out
}

// Means is a choice in full: of a radius at hand, whose it is.
func (q *Question) Means(choice string) string {
	r, err := strconv.ParseFloat(choice, 64)
	if q.Are == "" || err != nil || !slices.Contains(q.Choices, choice) {
		return choice
	}
	return choice + " (" + q.Are + " d " + typedAs(2*r) + ")"
}

// noDiameter refuses a bare figure that is the diameter of something at hand, and nothing's radius there: it is said at hand by its
// diameter, and half of it, or twice, would go into every wind unseen.
func noDiameter(a *answers, _ string, g *Given) error {
	s := surfaceOf(a.typed("setup.touch"))
	v, err := strconv.ParseFloat(g.toml, 64)
	if s.atHand == "" || err != nil || g.note != "" { // with d before it the diameter is meant
		return nil
	}
	if was, ok := a.latelyNumber("setup.reference_radius"); ok && sameKind(a) && sameFigure(was, v) {
		return nil
	}
	all := a.across(s.touch)
	is := func(times float64) bool {
		return slices.ContainsFunc(all, func(d float64) bool { return sameFigure(d, times*v) })
	}
	if !is(1) || is(2) {
		return nil
	}
	return unfit("d "+decimal(v)+" is that "+s.atHand+"; a radius of "+decimal(v)+" is d "+decimal(2*v),
		"%s is the diameter of a %s at hand", decimal(v), s.atHand)
}

// lastSurface is what was touched for the setting before: a file has only bore and boss for it, so a ring or plug is known by being at
// hand, or by how right it is said to be. A bore where there was nothing before.
func lastSurface(a *answers, _ string) string {
	touch, err := strconv.Unquote(a.lately("setup.touch"))
	if err != nil {
		return surfaces[0].words
	}
	is := func(d float64) bool {
		r, ok := a.latelyNumber("setup.reference_radius")
		return ok && sameFigure(d, 2*r)
	}
	known := limit{ways: ways(refKnown), half: true}.written(a)
	for _, s := range surfaces {
		if s.touch == touch && s.words == s.atHand &&
			(slices.ContainsFunc(a.across(touch), is) || a.lately("setup.reference_radius_error") == known[s.usually].toml) {
			return s.words
		}
	}
	return touch
}

// sameKind says that what is touched is of the kind that was touched for the setting before: from inside, or from outside; and a pin
// is no plug.
func sameKind(a *answers) bool {
	was := a.lately("setup.touch")
	is := surfaceOf(a.typed("setup.touch"))
	if was == "" { // a file that names none brings its own radius
		return true
	}
	return was == quote(is.touch) && (is.atHand != "" || lastSurface(a, "") != "plug")
}
