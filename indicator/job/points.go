package job

import (
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// points reads what setup points needs: a tip that touches, and a readout. What belongs to an indicator and
// its reach is refused, so that nobody takes it for heeded.
func (f *file) points(raw *rawJob, j *setup.Job) {
	s := &raw.Setup
	for _, no := range []struct {
		key   string
		given bool
	}{
		{"reach", s.Reach != nil}, {"reach_error", s.ReachError != nil}, {"held_radius", s.Held != nil},
		{"indicator_bearing", s.IndicatorBearing != nil},
		{"tilt_per_100", s.Tilt != nil}, {"sweep_height", s.SweepHeight != nil},
		{"reference_form_error", s.FormError != nil},
	} {
		if no.given {
			f.fail("setup."+no.key, "points are coordinates: they have no indicator, and no swing",
				"given with kind = \"points\", need it left out")
		}
	}
	if raw.Target.SwingRadius != nil {
		f.fail("target.swing_radius", "bring the centre in by points, then set the radius with kind = \"carried\"",
			"given with kind = \"points\", which shows no swing radius, need it left out")
	}
	if c := raw.Sweep.Closing; c != nil && *c {
		f.fail("sweep.closing", "", "true with kind = \"points\", need it left out: two touches of one place are two points")
	}
	j.Setup.ReferenceRadius = length(j.Unit, f.number("setup.reference_radius", s.ReferenceRadius, 0, positive, "above 0"))
	j.Setup.TipDiameter = length(j.Unit, f.number("setup.tip_diameter", s.TipDiameter, 0, notNegative, "0 or above"))
}

// readout reads how finely coordinates are shown, and how well a touch repeats. The table is the dial's, for
// that is what is read: graduation is the readout's step.
func (f *file) readout(raw *rawJob, j *setup.Job) {
	d, u := &raw.Dial, j.Unit
	if d.WholeNumbers != nil {
		f.fail("dial.whole_numbers", "a readout is typed as it shows", "given with kind = \"points\", need it left out")
	}
	if d.Pressed != nil {
		f.fail("dial.pressed", "a readout shows where the tip touches, however hard", "given with kind = \"points\", need it left out")
	}
	j.Dial = indicator.Dial{
		Graduation:    length(u, f.need("dial.graduation", d.Graduation, positive, "above 0")),
		ReadsTo:       f.number("dial.reads_to", d.ReadsTo, 1, func(x float64) bool { return x > 0 && x <= 1 }, "above 0 and at most 1"),
		Repeatability: length(u, f.number("dial.repeatability", d.Repeatability, 0, notNegative, "0 or above")),
	}
	f.repeats(raw, j)
}
