package setup

import (
	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/slide"
)

// Machine is what the machine file says. Lengths are millimetres, angles radians.
type Machine struct {
	Name  string    `json:"name"`
	Unit  geom.Unit `json:"unit"`
	Head  Ring      `json:"head"`
	Table Ring      `json:"table"`
	// Handwheel is the table's own; zero where none is stated.
	Handwheel Handwheel `json:"handwheel,omitzero"`
	// HeadLock says that the head, or the table, is clamped once it stands, and read again then.
	HeadLock bool          `json:"head_lock,omitempty"`
	Slides   []slide.Slide `json:"slides"`
	// Miss is how far to the left of its direction the offset slide's line passes the head axis, seen from
	// above looking outwards; 0 where it is not known.
	Miss float64 `json:"miss,omitempty"`
}

// Slide returns the slide of that name.
func (m *Machine) Slide(name string) (slide.Slide, bool) {
	for _, s := range m.Slides {
		if s.Name == name {
			return s, true
		}
	}
	return slide.Slide{}, false
}

// Needs returns the slides that the set-up winds, in the order they are wound: cross slides
// first, the offset slide last.
func (j *Job) Needs() []string { return Of(j).Needs(j) }

// SweepsSwing reports whether the set-up's sweep is to show the swing radius that is asked for.
func (j *Job) SweepsSwing() bool {
	return j.Target.WantsSwing() && !j.Target.Trial && !Of(j).Does().Off
}

// Taps reports whether the job's work is tapped into place on this machine: because the job says so, or
// because a table that is turned has no slides on it.
func Taps(j *Job, m *Machine) bool {
	_, x := m.Slide("table_x")
	_, y := m.Slide("table_y")
	return j.Setup.Kind == indicator.Turned && (j.Setup.Taps || (!x && !y))
}
