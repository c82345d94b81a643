package setup

import (
	"cmp"
	"iter"
	"math"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
)

// Obstacle is a part of the circle that the indicator cannot reach, a clamp or the column: from
// From counter-clockwise to To, radians. Both ends can be reached.
type Obstacle struct {
	From geom.Bearing `json:"from"`
	To   geom.Bearing `json:"to"`
}

// same is the angle, radians, below which two bearings are one: far below what a ring shows, and
// above what rounding leaves.
const same = 1e-9

// Blocked reports whether the indicator cannot reach a bearing for an obstacle.
func (s Sweep) Blocked(b geom.Bearing) bool {
	for _, o := range s.Obstacles {
		if past := float64((b - o.From).Normalized()); past > same && past < float64(o.To-o.From)-same {
			return true
		}
	}
	return false
}

// Left returns how much of the sweep can be reached, radians.
func (s Sweep) Left() float64 {
	left := 0.0
	for _, p := range s.parts() {
		left += p.to - p.from
	}
	return left
}

// Marks goes through the bearings that a further station is chosen from: every step of the
// sweep from its beginning on, and the ends of what can be reached between obstacles.
func (s Sweep) Marks(step geom.Bearing) iter.Seq[geom.Bearing] {
	return func(yield func(geom.Bearing) bool) {
		for b := s.From; b <= s.To+same; b += step {
			if !s.Blocked(b) && !yield(b) {
				return
			}
		}
		if len(s.Obstacles) == 0 {
			return
		}
		for _, p := range s.parts() {
			if !yield(s.bearing(p.from)) || !yield(s.bearing(p.to)) {
				return
			}
		}
	}
}

// part is what can be reached in one go; offsets from the beginning of the sweep, radians
// counter-clockwise.
type part struct{ from, to float64 }

// blocks returns the obstacles as parts, in the order in which they begin.
func (s Sweep) blocks() []part {
	var out []part
	for _, o := range s.Obstacles {
		from, wide := float64((o.From - s.From).Normalized()), float64(o.To-o.From)
		if !(from >= 0 && wide > 0) { // a journal may hold anything
			continue
		}
		to := from + min(wide, 2*math.Pi)
		out = append(out, part{from, to})
		if to > 2*math.Pi {
			out = append(out, part{from - 2*math.Pi, to - 2*math.Pi})
		}
	}
	slices.SortFunc(out, func(a, b part) int { return cmp.Compare(a.from, b.from) })
	return out
}

// parts returns what the obstacles leave of the sweep, in order. On a whole round the part that
// lies across the beginning of the sweep is one, and comes last.
func (s Sweep) parts() []part {
	end := min(float64(s.To-s.From), 2*math.Pi)
	var out []part
	at := 0.0
	for _, b := range s.blocks() {
		if until := min(b.from, end); until-at > same {
			out = append(out, part{at, until})
		}
		at = max(at, b.to)
	}
	if end-at > same {
		out = append(out, part{at, end})
	}
	if n := len(out) - 1; n > 0 && s.round() && out[0].from == 0 && out[n].to == end {
		out[n].to += out[0].to
		out = out[1:]
	}
	return out
}

// layout is where the stations of a sweep with obstacles stand: by equal steps of the angle that
// can be reached.
type layout struct {
	parts      []part
	lead, step float64 // from the beginning of the first part to the first station, and from one to the next
	first      int     // which of them is station 0
}

// layout lays the stations out; ok is false where the obstacles leave nothing, or there are none.
//
// A whole round is cut at its widest obstacle and becomes a part of a circle. Where even that one
// is narrower than half a step, stations at both its edges would be almost the same one twice (of
// three, two): then the obstacle counts as part of a step, which lies evenly on both sides of it.
func (s Sweep) layout() (l layout, ok bool) {
	if len(s.Obstacles) == 0 || s.Stations < 2 || s.Stations > indicator.MaxStations {
		return l, false
	}
	l.parts = s.parts()
	left := 0.0
	for _, p := range l.parts {
		left += p.to - p.from
	}
	if len(l.parts) == 0 {
		return l, false
	}
	n := float64(s.Stations)
	l.step = left / (n - 1)
	if !s.round() {
		return l, true
	}
	if cut := l.cut(); cut < l.step/2 {
		l.step = (left + cut) / n
		l.lead = (l.step - cut) / 2
	}
	for i := range s.Stations {
		if s.bearing(l.offset(float64(i))) < s.bearing(l.offset(float64(l.first))) {
			l.first = i
		}
	}
	return l, true
}

// cut turns the parts of a whole round so that the widest obstacle lies between the last and the
// first of them, and returns its width.
func (l *layout) cut() float64 {
	n, after, widest := len(l.parts), 0, 0.0
	for i := range l.parts {
		before := l.parts[(i+n-1)%n].to
		if i == 0 {
			before -= 2 * math.Pi
		}
		if w := l.parts[i].from - before; w > widest+same {
			after, widest = i, w
		}
	}
	for _, p := range l.parts[:after] {
		l.parts = append(l.parts, part{p.from + 2*math.Pi, p.to + 2*math.Pi})
	}
	l.parts = l.parts[after:]
	return widest
}

// offset returns where so many steps from the first station end, as an offset from the beginning
// of the sweep.
func (l *layout) offset(steps float64) float64 {
	way := l.lead + float64(steps*l.step)
	for i, p := range l.parts {
		wide := p.to - p.from
		if way <= wide+same || i == len(l.parts)-1 {
			if way >= wide-same {
				return p.to
			}
			return p.from + way
		}
		way -= wide
	}
	return 0
}

// bearing turns an offset from the beginning of the sweep into a bearing: on a whole round the
// one that comes first from there on.
func (s Sweep) bearing(offset float64) geom.Bearing {
	if s.round() && offset > 2*math.Pi-same {
		offset = max(0, offset-2*math.Pi)
	}
	return s.From + geom.Bearing(offset)
}

// station returns the bearing of station i, and with half 0.5 that halfway to the next.
func (s Sweep) station(l *layout, i int, half float64) geom.Bearing {
	n := s.Stations
	if half > 0 {
		n-- // from the last to the first there is an obstacle in between
	}
	return s.bearing(l.offset(float64((l.first+max(i, 0))%n) + half))
}
