package lines_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/lines"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
)

// From above: axis, tip and spindle in their order along their bearing and to scale, metal on the side
// of the wall that the touch says.
func TestAbove(t *testing.T) {
	for _, touch := range []indicator.Touch{indicator.Bore, indicator.Boss} {
		for _, reach := range []float64{-12, 12} {
			for _, at := range []float64{0, 90, 180, 270} {
				k := record.Sketch{Touch: touch, Reach: reach, Swing: 42, Reference: 42 + reach, At: geom.FromDegrees(at)}
				rows := k.Above(21)
				find := func(c byte) (x, y float64) {
					for row, l := range rows {
						if col := strings.IndexByte(l, c); col >= 0 {
							return float64(col) / 2, -float64(row)
						}
					}
					t.Fatalf("no %q in\n%s", c, strings.Join(rows, "\n"))
					return 0, 0
				}
				x0, y0 := find('+')
				place := func(c byte) float64 { // along the bearing, in rows
					x, y := find(c)
					return (x-x0)*math.Cos(float64(k.At)) + (y-y0)*math.Sin(float64(k.At))
				}
				if tip, spindle := place('o'), place('S'); !(tip > 0) || math.Abs(tip/spindle-k.Reference/k.Swing) > 0.12 {
					t.Errorf("%v, reach %v at %v: tip %v, spindle %v rows from the axis, want them as %v to %v\n%s", touch, reach, at, tip,
						spindle, k.Reference, k.Swing, strings.Join(rows, "\n"))
				}
				if middle := rows[10][18:20]; strings.Contains(middle, "#") != (touch == indicator.Boss) {
					t.Errorf("%v: %q beside the axis", touch, middle)
				}
			}
		}
	}
}

// What the dial reads at the target is what the exact model reads on a reference that stands true: 42 - 12.118 - 30 in a bore. The
// tip is left as it is, for the reach holds for it, and a reference of the radius that is told reads zero: 42 - 12.118.
func TestTargetReading(t *testing.T) {
	for _, c := range []struct {
		touch       indicator.Touch
		reach, want float64
	}{{indicator.Bore, -12.118, -0.118}, {indicator.Bore, -11.882, 0.118}, {indicator.Boss, -12.118, 0.118},
		{indicator.Boss, -11.9, -0.1}} {
		o := bench(t, func(o *session.Opened) {
			o.Job.Setup.Touch, o.Job.Setup.Reach = c.touch, c.reach
			o.Job.Setup.ReferenceRadius, o.Job.Target.SwingRadius = 30, 42
		})
		s := session.State{}.Apply(o)
		l := lines.Setup(&s, geom.Millimetre)
		if math.Abs(float64(l.AtTarget)-c.want) > 1e-9 {
			t.Errorf("%v, reach %v: reads %v at the target, want %v", c.touch, c.reach, l.AtTarget, c.want)
		}
		zero := fmt.Sprintf("leave the tip as it is: the reach holds for it as it is seated now; a %v of radius %.3f mm reads zero", c.touch,
			42+c.reach)
		if !strings.Contains(l.Text(), zero) || !strings.Contains(l.Text(), "o>#") == (c.touch == indicator.Bore) {
			t.Errorf("%v, reach %v:\n%s", c.touch, c.reach, l.Text())
		}
		if b, err := json.Marshal(l); err != nil || !strings.Contains(string(b), `"say":"setup"`) {
			t.Errorf("%s, %v", b, err)
		}
	}
}
