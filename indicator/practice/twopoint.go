package practice

import (
	"math"

	"example.org/trammel/geom"
)

// cutAndTry is the two-point hand at work.
type cutAndTry struct {
	m    *Machine
	want Want
	out  Outcome
}

// twoPoint sets a machine without a program, by what a dial shows at two opposite points. This is our
// model of it (common practice, no source):
//
//   - He reads at 0° and 180°, and at 90° and 270°. Half the difference of two opposite readings is the
//     centre's error along their line; he knows every sign. Where it is beyond the tolerance he winds
//     that slide by so much by its collar, straight there: he neither loads slides nor takes up play, so
//     that the play eats from every wind that turns back. He does so until both halves are inside.
//   - Then the mean of what he reads, against the zero that the dial was set to show at the target,
//     is the radius's error. He winds the offset slide by so much by its collar, reads 0° and 180° again,
//     and accepts when the mean and the half difference of these two are inside their tolerances. A
//     half that is not sends him back to the four points.
//   - A clamp is opened for a wind and shut after it. With the needle off the dial he roughs in as
//     [Machine.rough] does.
//
// A trial is a set of readings and the winds that followed it, a rough stage included.
func twoPoint(d *Drawn, seed uint64) (Outcome, error) {
	c := cutAndTry{m: New(d.World, seed), want: d.Want}
	centred := false
	for c.out.Trials < mostTrials {
		c.out.Trials++
		var err error
		if !centred {
			centred, err = c.centre()
		} else {
			var again bool
			again, c.out.Accepted, err = c.radius()
			centred = !again
		}
		if err != nil {
			return c.out, err
		}
		if c.out.Accepted {
			c.m.lockRest()
			c.out.Within = c.want.met(c.m.Truth())
			break
		}
	}
	return c.out, nil
}

// centre is a trial at four points. done says that both halves were inside, and that the radius has
// been wound by their mean.
func (c *cutAndTry) centre() (done bool, err error) {
	x, meanX, okX := c.pair(0)
	y, meanY, okY := c.pair(90 * geom.Degree)
	if !okX || !okY {
		c.out.Winds += roughWinds
		return false, c.m.rough()
	}
	done = true
	for _, s := range []struct {
		name string
		off  float64
	}{{c.m.names()[1], x}, {c.m.names()[2], y}} {
		if math.Abs(s.off) > c.want.CentreTolerance {
			done = false
			if err := c.wind(s.name, s.off); err != nil {
				return false, err
			}
		}
	}
	if !done {
		return false, nil
	}
	if off := (meanX + meanY) / 2; math.Abs(off) > c.want.Tolerance {
		return true, c.wind("offset", -off)
	}
	return true, nil
}

// radius is a trial at two points, once the centre is in: accepted, or wound once more, or the centre
// again.
func (c *cutAndTry) radius() (again, accepted bool, err error) {
	x, mean, ok := c.pair(0)
	switch {
	case !ok, math.Abs(x) > c.want.CentreTolerance:
		return true, false, nil
	case math.Abs(mean) > c.want.Tolerance:
		return false, false, c.wind("offset", -mean)
	}
	return false, true, nil
}

// pair reads at a bearing and opposite. half is how far the head has to go towards the bearing for the
// centre, mean how far the swing is too large; ok is false where the needle is off the dial.
func (c *cutAndTry) pair(b geom.Bearing) (half, mean float64, ok bool) {
	c.m.clampForSweep()
	var read [2]Needle
	for i, at := range [2]geom.Bearing{b, b + 180*geom.Degree} {
		c.m.look(at)
		read[i] = c.m.Dial()
		c.out.Readings++
	}
	half, mean = (read[1].Reading-read[0].Reading)/2, (read[0].Reading+read[1].Reading)/2
	if !c.m.world.Bore {
		half, mean = -half, -mean
	}
	return half, mean, read[0].Off == "" && read[1].Off == ""
}

// wind winds a slide by its collar, straight there.
func (c *cutAndTry) wind(name string, by float64) error {
	s, err := c.m.screw(name)
	if err != nil {
		return err
	}
	c.out.Winds++
	if err := c.m.unlockSlide(name); err != nil {
		return err
	}
	if c.m.world.Table.Turned && name != "offset" {
		by = -by // the work goes, and not the head
	}
	clockwise := (by > 0) == s.ClockwiseIncreases
	if err := c.m.Turn(name, Move{Clockwise: clockwise, Divisions: math.Abs(by) / s.TravelPerTurn * s.Divisions}); err != nil {
		return err
	}
	return c.m.lockSlide(name)
}
