package setup

import (
	"math"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/slide"
)

// tapping: where no slides carry the work on a table that is turned, it is knocked into place with a soft hammer under
// the needle. A tap is no wind: how far it drives the work is known only when the needle has shown it, and it
// drives it a little aside as well. The offset slide is wound as ever.
type tapping struct{ slides }

// taps: no slides carry the work on the table that is turned.
var taps = SetUp{Ground: turnedUnder, Mover: tapping{}, Is: func(j *Job) bool { return j.Setup.Kind == indicator.Turned && j.Setup.Taps },
	Example: Job{Setup: indicator.Setup{Kind: indicator.Turned, Taps: true}},
	Words: Words{Name: "turned", Swung: "table", Steps: func(p *Phrases) []string {
		return append(turnedSteps(p), "   the work lies loose while it is tapped, lightly and with a soft hammer; "+
			"clamp it before the sweep that proves it")
	}},
}

// Does: see [Mover]. A tap goes as far as it goes, whatever is stated.
func (tapping) Does() MoverFacts { return MoverFacts{Loads: true, Teaches: true, Cuts: true} }

// Needs: see [Mover].
func (tapping) Needs(j *Job) []string { return offsetLast(j, nil) }

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
func (b *Bench) taps() (all, row int, last *Done) {
	same := true
	for d := b.Winds; d != nil; d = d.Before {
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

// Next: see [Mover].
func (t tapping) Next(b *Bench, f *indicator.Estimate) Next {
	c := b.believed(f)
	if tap, more := b.nextTap(f, &c); more {
		return Next{Wind: &tap}
	}
	return t.slides.Next(b, f)
}

// nextTap tells the next tap where the centre still has to be brought in; ok is false where it does not. f is what
// the sweep found and b what is known now.
func (b *Bench) nextTap(f, c *indicator.Estimate) (t Wind, ok bool) {
	tol := b.Job.Target.CentreTolerance
	near := max(tol/tapNear, b.Job.Dial.ReadsTo*b.Job.Dial.Graduation)
	all, row, last := b.taps()
	if all == 0 {
		e := advice.Task{Travel: f.Offset(), Half: tol / 2, Verdict: b.Judge(f).Centre}
		room := b.Target.Room(f, f.Assumed(b.Stated))
		switch {
		case b.moot(e.Verdict, room.Centre, tol, f.OffAtMost().U, tapLeast):
			return t, false
		case e.Verdict == indicator.Inside, math.IsNaN(e.Travel.V), e.Travel.V+e.Travel.U <= e.Half,
			e.Verdict != indicator.Outside && e.Travel.V <= e.Travel.U:
			return t, false
		}
		return b.tapAlong(c, f.Circle.Centre.Bearing(), 1)
	}
	if all >= mostTaps || c.Dof <= 0 {
		return t, false
	}
	line := last.Park.Bearing
	if along := c.Part(line.Unit()); math.Abs(along.V) > near && row < mostInLine {
		return b.tapAt(c, line, all+1)
	}
	across := line + geom.Bearing(math.Pi/2)
	if off := c.Part(across.Unit()); math.Abs(off.V) > max(near, off.U/2) {
		return b.tapAlong(c, across, all+1)
	}
	return t, false
}

// leastAligned is how well a parking place has to lie on the line that the centre is to go along.
var leastAligned = math.Cos(40 * math.Pi / 180)

// tapAlong finds where to park the table for taps along a line through the axis: at the mark that lies on it best,
// of two across from each other the one with the indicator out of the hammer's way.
func (b *Bench) tapAlong(c *indicator.Estimate, line geom.Bearing, step int) (best Wind, ok bool) {
	straight := leastAligned
	for at := range b.Job.Sweep.Marks(advice.MarkStep) {
		t, on := b.tapAt(c, at, step)
		along := math.Abs(math.Cos(float64(at - line)))
		if !on || along < straight*(1-1e-9) {
			continue
		}
		if ok && along < straight*(1+1e-9) && (best.Tap.Towards || !t.Tap.Towards) {
			continue
		}
		best, straight, ok = t, max(along, straight), true
	}
	return best, ok
}

// tapAt tells the tap with the indicator touching at a bearing of the work; ok is false where the needle would
// leave the dial.
func (b *Bench) tapAt(c *indicator.Estimate, at geom.Bearing, step int) (Wind, bool) {
	at = at.Normalized()
	off := c.Part(at.Unit())
	axis := indicator.CrossAxis(at.Unit(), true)
	cured := c.Moved(axis, -off.V, 0)
	now, goal := c.Expect(at), cured.Expect(at)
	nudged := c.Moved(axis, advice.Nudge, 0)
	act := (nudged.Expect(at).V - now.V) / advice.Nudge
	u := now.U
	if math.IsNaN(u) {
		u = 0
	}
	if math.Abs(act) < advice.LeastAct || !advice.OnDial(b.Job.Dial, now.V, u) || !advice.OnDial(b.Job.Dial, goal.V, 0) {
		return Wind{}, false
	}
	side := at
	if off.V < 0 {
		side = at + math.Pi
	}
	return Wind{Step: step, Of: step, Open: true,
		Wind: slide.Wind{Slide: tapped, Travel: math.Abs(off.V), Moves: []slide.Move{}},
		Park: &advice.Park{Bearing: at, Now: now.V, Goal: goal.V, Act: act},
		Tap:  &Tap{Side: side.Normalized(), Towards: off.V < 0}}, true
}

// After: see [Mover]. A tap has gone some of the way and a little aside, and the needle says how far along the line.
func (t tapping) After(b *Bench, f indicator.Estimate, d *Done, c *advice.Cross) (indicator.Estimate, bool) {
	if d.Tap == nil {
		return t.slides.After(b, f, d, c)
	}
	way := d.Tap.Side + math.Pi
	by := d.Wind.Travel
	f = f.Moved(indicator.CrossAxis(way.Unit(), true), tapShare*by, math.Hypot(tapSpread*by, tapLeast))
	f = f.Moved(indicator.CrossAxis((way+math.Pi/2).Unit(), true), 0, math.Hypot(tapAside*by, tapLeast))
	if d.Reading != nil && d.Park != nil {
		f = f.Seen(d.Park.Bearing, *d.Reading+(b.Bezel-d.Bezel), 0)
	}
	return f, true
}
