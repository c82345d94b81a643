package practice

import (
	"fmt"
	"math"

	"example.org/trammel/geom"
)

// The ranges of what is drawn for touched points and for taps (common practice, no source).
const (
	pointStep         = 0.005    // of the readouts, mm
	pointTip          = 6.0      // diameter of the edge finder's tip, mm
	pointNoiseLeast   = 0.001    // standard deviation of one touch, mm
	pointNoiseMost    = 0.005    //
	pointGuess        = 1.0      // how far beside the middle the hand aims from, mm
	pointAway         = 20.0     // where the readouts' zeros lie, either way, mm
	pointAngle        = 5.0      // standard deviation of the side that is touched, degrees
	pointStations     = 6        //
	tapLeast, tapMost = 0.3, 1.3 // of what the hand wants
	tapAside          = 10.0     // to either side, degrees
)

// hammer takes the slides off the table.
func (w *World) hammer() {
	w.X, w.Y, w.SkewX, w.SkewY = Slide{}, Slide{}, 0, 0
	w.Hammer = Hammer{On: true, Least: tapLeast, Most: tapMost, Aside: float64(tapAside * geom.Degree)}
}

// drawSetOff gives X a readout. The sweep is one of the table's bore, and the bar that carries the indicator is
// longer or shorter by as much as the swing radius of a head would be out.
func drawSetOff(seed uint64, w *World) {
	d := draw{stream(seed, streamSetup)}
	w.Readout = Readout{On: true, Step: pointStep, ZeroX: d.either(pointAway)}
}

// drawPoints makes the drawn machine one with readouts on X and Y and an edge finder in its spindle. It stands
// anywhere over a bore or beside a boss.
func drawPoints(seed uint64, w World, stated *statement, o Options) Drawn {
	d := draw{stream(seed, streamSetup)}
	w.Bore = d.chance.IntN(2) == 0
	w.TipDiameter, w.SweepHeight, w.SpindleLean = pointTip, 0, 0
	w.LeanX, w.LeanY = 0, 0
	w.Noise, w.AngleNoise = d.between(pointNoiseLeast, pointNoiseMost), float64(pointAngle*geom.Degree)
	w.Readout = Readout{On: true, Step: pointStep, ZeroX: d.either(pointAway), ZeroY: d.either(pointAway), Guess: pointGuess}
	off := d.disc(drawReference)
	w.Start = Truth{CentreX: off.X, CentreY: off.Y}
	touch := map[bool]string{true: "bore", false: "boss"}[w.Bore]
	// Nine touches of one place, as the owner read them.
	repeats := w
	repeats.Graduation, repeats.ReadsTo = pointStep, 1
	job := fmt.Appendf(nil, `# Practice: plate of a bench-drill belt tensioner, touched on a mill with readouts.
unit = "mm"
[setup]
kind = "points"
touch = %q
reference_radius = %v
tip_diameter = %v
[target]
centre_tolerance = %v
[sweep]
stations = %d
[dial]
graduation = %v
repeatability = %.4f
`, touch, drawReference, pointTip, drawTolerance, pointStations, pointStep, math.Max(d.repeats(&repeats), 0.001))
	return Drawn{World: w, Want: Want{CentreTolerance: drawTolerance}, Job: job, Machine: stated.machine(&w, o), settings: o.Settings}
}
