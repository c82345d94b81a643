package setup

import (
	"math"

	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Target is the figure to reach. Lengths are millimetres.
type Target struct {
	// SwingRadius is 0 where only the centre is brought in.
	SwingRadius float64 `json:"swing_radius"`
	// Tolerance is plus or minus on the swing radius.
	Tolerance float64 `json:"tolerance"`
	// SetOff is how the swing radius is set once the axis stands over the centre, nil where a sweep shows it.
	SetOff *SetOff `json:"set_off,omitempty"`
	// Trial says that no sweep shows it, for the reach is not known: a first cut does, which is measured.
	Trial bool `json:"trial_cut,omitempty"`
	// CentreTolerance bounds the distance between axis and centre; 0 where none is asked for.
	CentreTolerance float64 `json:"centre_tolerance"`
}

// SetOff says that a machine slide carries the spindle off the table's axis, by the swing radius: with the
// spindle stood over the axis a sweep shows where that is, and nothing of the swing.
type SetOff struct {
	Slide string    `json:"slide"` // x or y
	Way   slide.Way `json:"way"`   // what its coordinate does on the way out
}

// WantsSwing reports whether a swing radius is asked for.
func (t Target) WantsSwing() bool { return t.SwingRadius > 0 }

// sweepsSwing reports whether the sweep is to show it.
func (t Target) sweepsSwing() bool { return t.byOffset() && !t.Trial }

// byOffset reports whether the offset slide sets it.
func (t Target) byOffset() bool { return t.WantsSwing() && t.SetOff == nil }

// measured is the radius that a sweep shows: the swing radius, or the surface's where the sweep is one of a known zero radius.
func measured(f *indicator.Estimate) indicator.Value {
	if r := f.Swing(); r.Known() {
		return r
	}
	return f.Radius()
}

// Judge compares a sweep with the target. tail is the risk of a false
// "inside" that this look may take; [indicator.FixedTail] for a sweep that is looked at once.
func (t Target) Judge(f *indicator.Estimate, tail float64) indicator.Verdicts {
	var v indicator.Verdicts
	if t.sweepsSwing() {
		r := measured(f)
		v.Radius = indicator.Judge(indicator.Value{V: r.V - t.SwingRadius, U: r.U}, t.Tolerance, f.Guard(tail))
	}
	if t.CentreTolerance > 0 {
		v.Centre = f.JudgeCentre(t.CentreTolerance, tail)
	}
	return v
}

// Room is what the tolerances leave for what was assumed of a sweep. The radius and its uncertainty are those that [Target.Judge]
// compares; the centre's uncertainty is the one in its worst direction.
func (t Target) Room(f *indicator.Estimate, a indicator.Assumed) indicator.Room {
	room := indicator.NoRoom
	if on, _ := a.Radius(); len(on) > 0 && t.sweepsSwing() {
		r := measured(f)
		room.Radius = t.Tolerance - math.Abs(r.V-t.SwingRadius) - r.U
	}
	if on, _ := a.Centre(); len(on) > 0 && t.CentreTolerance > 0 {
		e := f.OffAtMost()
		room.Centre = t.CentreTolerance - e.V - e.U
	}
	return room
}
