package session

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Where no slides carry the work on a table that is turned, it is knocked into place with a soft hammer under
// the needle. A tap is no wind: how far it drives the work is known only when the needle has shown it, and it
// drives it a little aside as well.

// Tap says where to knock, and which way that drives the work.
type Tap struct {
	// Side is the bearing of the work's own frame, seen from the table's axis, of the side to tap: the work goes
	// the opposite way.
	Side geom.Bearing `json:"side"`
	// Towards says that this is the side across from the indicator, so that the work is driven towards where the
	// indicator stands; else it is driven away from there.
	Towards bool `json:"towards"`
}

// tapped is the name in a journal of what a tap drives.
const tapped = "work"

// What a tap does, as a part of what is wanted of it, before the needle has been read: how much of it, give or
// take, and how far aside; and what it may do when next to nothing is wanted, millimetres (common practice,
// no source: judged by the simulated hand, which drives the work by 0.3 to 1.3 of what is wanted, 10° aside).
const (
	tapShare  = 0.8
	tapSpread = 0.4
	tapAside  = 0.13
	tapLeast  = 0.003
)

const (
	mostTaps   = 24 // in one trial, before it is swept again
	mostInLine = 10 // with the table standing still
	tapNear    = 4  // a line is left when the centre is within this part of the tolerance along it
)

// taps lists what is knocked in this trial so far: how often in all and, with the table as it stands now, how often
// in a row.
func (s *State) taps() (all, row int, last *Done) {
	same := true
	for d := s.Winds; d != nil; d = d.Before {
		if d.Tap == nil {
			same = false
			continue
		}
		if all++; last == nil {
			last = d
		}
		if same = same && d.Park.Bearing == last.Park.Bearing; same {
			row++
		}
	}
	return all, row, last
}

// nextTap tells the next tap where the centre still has to be brought in; ok is false where it does not. f is what
// the sweep found and b what is known now.
func (s *State) nextTap(f, b *indicator.Found) (t Told, ok bool) {
	tol := s.Set.Job.Target.CentreTolerance
	near := max(tol/tapNear, s.Set.Job.Dial.ReadsTo*s.Set.Job.Dial.Graduation)
	all, row, last := s.taps()
	if all == 0 {
		e := errand{travel: f.Offset(), half: tol / 2, verdict: s.Judge(f).Centre}
		if e.verdict == indicator.Inside || math.IsNaN(e.travel.V) || e.travel.V+e.travel.U <= e.half || (e.verdict != indicator.Outside && e.travel.V <= e.travel.U) {
			return t, false
		}
		return s.tapAlong(b, f.Circle.Centre.Bearing(), 1)
	}
	if all >= mostTaps || b.Dof <= 0 {
		return t, false
	}
	line := last.Park.Bearing
	if along := b.Part(line.Unit()); math.Abs(along.V) > near && row < mostInLine {
		return s.tapAt(b, line, all+1)
	}
	across := line + geom.Bearing(math.Pi/2)
	if off := b.Part(across.Unit()); math.Abs(off.V) > max(near, off.U/2) {
		return s.tapAlong(b, across, all+1)
	}
	return t, false
}

// leastAligned is how well a parking place has to lie on the line that the centre is to go along.
var leastAligned = math.Cos(40 * math.Pi / 180)

// tapAlong finds where to park the table for taps along a line through the axis: at the mark that lies on it best,
// of two across from each other the one with the indicator out of the hammer's way.
func (s *State) tapAlong(b *indicator.Found, line geom.Bearing, step int) (best Told, ok bool) {
	straight := leastAligned
	for at := range s.Set.Job.Sweep.Marks(parkStep) {
		t, on := s.tapAt(b, at, step)
		c := math.Abs(math.Cos(float64(at - line)))
		if !on || c < straight*(1-1e-9) {
			continue
		}
		if ok && c < straight*(1+1e-9) && (best.Tap.Towards || !t.Tap.Towards) {
			continue
		}
		best, straight, ok = t, max(c, straight), true
	}
	return best, ok
}

// tapAt tells the tap with the indicator touching at a bearing of the work; ok is false where the needle would
// leave the dial.
func (s *State) tapAt(b *indicator.Found, at geom.Bearing, step int) (Told, bool) {
	at = at.Normalized()
	off := b.Part(at.Unit())
	axis := indicator.CrossAxis(at.Unit(), true)
	cured := b.Moved(axis, -off.V, 0)
	now, goal := b.Expect(at), cured.Expect(at)
	const small = 1e-3
	nudged := b.Moved(axis, small, 0)
	act := (nudged.Expect(at).V - now.V) / small
	u := now.U
	if math.IsNaN(u) {
		u = 0
	}
	if math.Abs(act) < leastAct || !s.onDial(now.V, u) || !s.onDial(goal.V, 0) {
		return Told{}, false
	}
	side := at
	if off.V < 0 {
		side = at + math.Pi
	}
	return Told{Step: step, Of: step, Open: true,
		Wind: slide.Wind{Slide: tapped, Travel: math.Abs(off.V), Moves: []slide.Move{}},
		Park: &Park{Bearing: at, Now: now.V, Goal: goal.V, Act: act},
		Tap:  &Tap{Side: side.Normalized(), Towards: off.V < 0}}, true
}

// afterTap returns what is known of the circle after a tap: it has gone some of the way and a little aside, and
// the needle says how far along the line. shown is what the dial's figures have been shifted by since.
func afterTap(f indicator.Found, d *Done, shown float64) indicator.Found {
	way := d.Tap.Side + math.Pi
	by := d.Wind.Travel
	f = f.Moved(indicator.CrossAxis(way.Unit(), true), tapShare*by, math.Hypot(tapSpread*by, tapLeast))
	f = f.Moved(indicator.CrossAxis((way+math.Pi/2).Unit(), true), 0, math.Hypot(tapAside*by, tapLeast))
	if d.Reading != nil && d.Park != nil {
		f = f.Seen(d.Park.Bearing, *d.Reading+shown, 0)
	}
	return f
}

// tapAsked: a tap, answered with what the needle shows after it.
type tapAsked struct{ collarAsked }

func (tapAsked) number(s *State, reading float64) (Event, error) {
	if err := s.checkDial(reading, "tap it back onto the dial, or say again: the sweep begins anew"); err != nil {
		return nil, err
	}
	return Wound{Slide: s.Told.Wind.Slide, Reading: &reading}, nil
}

func (tapAsked) hint(*State) string {
	return "tap, then type what the needle shows; again begins the sweep anew where it has left the dial"
}
