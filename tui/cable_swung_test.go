package tui_test

import (
	"testing"

	"example.org/trammel/indicator/gauge"
	"example.org/trammel/tui"
)

// stays has the needle stand still at a figure, having done so much since the last entry.
func (c *wire) stays(d *driver, mm float64, stay gauge.Stay) *driver {
	c.mean, c.moves = gauge.Mean{Value: mm, Spread: 0.0004, N: 10, Stay: stay}, nil
	return d.Send(tui.MomentMsg(gauge.Moment{Has: true, Value: mm, Steady: true, Mean: c.mean, Forgets: c.forgot}))
}

// A needle that has not moved since the station before is taken by a second Enter only: a head that was not swung, an indicator on
// hold. What the second one takes is what stands still by then. Once that was said in a sweep, a needle that trembles costs one key.
func TestNeedleThatHasNotMoved(t *testing.T) {
	c := &wire{}
	d := cabled(t, c).Size(110, 24)
	c.stays(d, -0.326, gauge.Held).Enter().Readings(-0.326) // the first station has none before it
	c.stays(d, -0.326, gauge.Trembled).Enter().Readings(-0.326)
	d.Expect(Line("Enter once more: take it as it is; the needle has not moved since station 1: was the head swung"))
	d.Size(40, 12).Expect(Line("not moved")).Size(110, 24)
	d.Type("/").Expect(Nowhere("once more")).Enter().Expect(Line("Enter once more"))
	c.stays(d, -0.31, gauge.Left)
	d.Enter().Readings(-0.326, -0.31) // which it has been by now
	c.stays(d, -0.31, gauge.Trembled).Enter().Expect(Line("has not moved since station 2")).Enter().Readings(-0.326, -0.31, -0.31)
	c.stays(d, -0.31, gauge.Trembled).Enter().Readings(-0.326, -0.31, -0.31, -0.31)
	c.stays(d, -0.31, gauge.Held).Enter().Expect(Line("has not moved since station 4")).Type("/")
	d.Type("-0.3").Enter()
	c.stays(d, -0.3, gauge.Held).Enter().Expect(Nowhere("has not moved")) // what was typed was read anywhere
}

// A figure that is typed beside a needle which stands still elsewhere is asked for once more, at a station and on a wind: not one that
// is off by less than a division, nor while the needle moves, or is not seen.
func TestTypedBesideANeedle(t *testing.T) {
	c := &wire{}
	d := cabled(t, c).Size(110, 24)
	c.still(d, 0.188).Type("0.05").Enter().Readings()
	d.Expect(Line("Enter once more: +0.050 mm is taken, though the cable indicator stands still at +0.188 mm"))
	d.Type("/").Type("0.185").Enter().Readings(0.185)
	c.still(d, 0.188).Type("0.05").Enter().Enter().Readings(0.185, 0.05)
	c.moving(d, 0.188).Type("0.06").Enter().Readings(0.185, 0.05, 0.06)
	d.Send(tui.MomentMsg(gauge.Moment{Lost: "it has gone"})).Type("0.07").Enter().Readings(0.185, 0.05, 0.06, 0.07)

	w := onWind(t, real(t, nil))
	before := w.state().Events
	w.moves(-0.19).stands(-0.19).Type("0.3").Enter()
	if w.Expect(Line("+0.300 mm is taken, though the cable indicator")); w.state().Events != before {
		t.Error("what was typed on a wind is on record")
	}
}
