package tui_test

import (
	"testing"

	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/setup"
)

// taughtArcs puts two checked rims, 0.018 big, in front of the setting.
func taughtArcs(hollow bool) func(*session.Opened) {
	return func(o *session.Opened) {
		o.Job.Setup.ReachLimit, o.Job.Cut = 0.05, &setup.Cut{Cutter: 8, CutterLimit: 0.02}
		a := session.Finished{By: session.Means{Machine: o.Machine.Name, Cutter: o.Job.Cut.Cutter, Reference: o.Job.Setup.ReferenceRadius,
			Reach: o.Job.Setup.Reach},
			Hollow: hollow, Off: 0.018, Own: 0.001, Common: 0.029, Measured: 0.004}
		o.Arcs = []session.Finished{a, a}
	}
}

// The screen opens with what the arcs so far say; j takes it up with Enter, or a figure that is typed, and the Aim line
// shows it; undo takes it back. Where it is held back, Enter alone is refused, and j without arcs says why not.
func TestBiasKey(t *testing.T) {
	d := screen(t, real(t, taughtArcs(false))).Size(120, 40)
	d.Expect(Line("2 arcs so far came out 0.018 ±0.006 mm big", "set 42.000 − 0.018 mm"))
	d.Type("j").Expect(Line("set the swing radius larger by (mm; empty: −0.018, as the arcs say)")).Enter()
	d.Expect(Line("swing to 42.000 − 0.018"), Line("the swing radius is corrected: 42.000 − 0.018 = 41.982 mm"))
	if b := d.state().Bias; b.By != -0.018 || !(b.Limit > 0) {
		t.Errorf("the bias is %+v, want −0.018 with its limit", b)
	}
	d.Type("/").Expect(Line("swing to 42.000 ±0.020"), Line("taken back: the correction of the swing radius"))
	d.Type("j").Type("-0,02").Enter().Expect(Line("swing to 42.000 − 0.020"))
	d.Type("j").Type("much").Enter().Expect(Line("much", "j, then like"))
	d.Type("j5").Esc()
	if b := d.state().Bias; b != (session.Biased{By: -0.02}) {
		t.Errorf("the bias is %+v, want −0.02 and no limit", b)
	}
	d.Type("m").Expect(Line("2 arcs so far came out"))

	d = screen(t, real(t, taughtArcs(true))).Size(120, 40).Expect(Line("held back"))
	d.Type("j").Expect(Line("no arc proposes any")).Enter().Expect(Line("the arcs so far have their metal on the other side"))
	screen(t, real(t, nil)).Size(120, 40).Type("j").Expect(Line("correction: no arc was checked before this setting"))
}
