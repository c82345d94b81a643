package tui_test

import (
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
	"example.org/trammel/indicator/slide"
)

// stopped is the accepted setting at a step, the arc's ends drawn and the head's ring read to a fifth of 1°: it shows 0 at 90° and
// falls, so the arc from 20.15° to 250.3° begins at ring 69.85° and ends at 199.7°, and short of these are 69.8 and 199.8.
func stopped(t *testing.T, at session.Chore) *driver {
	t.Helper()
	o := stepwise(real(t, nil))
	past, less := geom.FromDegrees(1.2), geom.FromDegrees(0.4)
	o.opened.Arc = &part.Picked{Part: "plate", N: 3, Radius: 38, From: geom.FromDegrees(20.15), To: geom.FromDegrees(250.3), Side: "inside",
		Cutter: 8, Swing: 42, Sense: "anticlockwise", LetPass: 0.002,
		AtFrom: &part.Window{Past: &less, Short: past}, AtTo: &part.Window{Past: &past, Short: past}}
	o.opened.Machine.Head = setup.Ring{Zero: geom.FromDegrees(90), Figures: slide.Clockwise, Graduation: float64(geom.FromDegrees(1))}
	w, d := stand{41.7, -0.11, 0.15}, screen(t, o)
	for d.prompt().Chore.Step != at {
		w.work(d, 1, nothing)
	}
	return d
}

// The stops are the largest on their page, the start first, and where the ring is too coarse the hard stop is named with it.
func TestStopsOnTheScreen(t *testing.T) {
	d := stopped(t, session.SetStops)
	golden(t, "80x24/stops", d.Size(80, 24).Screen())
	golden(t, "200x50/stops", d.Size(200, 50).Screen())
	d.Expect(Line("about 69.8°"), Line("ring 199.8°"))
}

// What the ring shows at the stop is typed where the swing has stopped: what is too far on is refused with where the stop belongs,
// what is within is on record, and is taken back like any other entry.
func TestDrySwingTakesTheRing(t *testing.T) {
	d := stopped(t, session.DrySwing)
	golden(t, "80x24/dry-swing-stops", d.Size(80, 24).Screen())
	d.Type("197").Enter().Expect(Line("ring 197° at the stop is 2.7°", "beyond it"))
	if d.prompt().Chore.Step != session.DrySwing {
		t.Fatal("a stop too far on was taken")
	}
	d.Type("199.2").Enter()
	if d.prompt().Chore.Step != session.Power {
		t.Fatal("a stop within its window was not taken")
	}
	d.Expect(Line("dry swing", "ring 199.2°"))
	d.Type("/")
	if d.prompt().Chore.Step != session.DrySwing {
		t.Fatal("it cannot be taken back")
	}
}
