package practice

import (
	_ "embed" // for the files

	"example.org/trammel/geom"
)

// PointsJob and PointsMachine are the files of the bench with readouts; TapsMachine is that of the rotary table
// without slides, which goes with TableJob.
var (
	//go:embed bench-points-job.toml
	PointsJob []byte
	//go:embed bench-points-machine.toml
	PointsMachine []byte
	//go:embed bench-taps-machine.toml
	TapsMachine []byte
)

// BenchTaps draws the bench with a rotary table whose work lies loose on it.
func BenchTaps(seed uint64) World {
	w := BenchTable(seed)
	w.hammer()
	return w
}

// SetOffJob and SetOffMachine are the files of the bench whose spindle is stood over a table's axis and carried off
// it by X, which has a readout.
var (
	//go:embed bench-setoff-job.toml
	SetOffJob []byte
	//go:embed bench-setoff-machine.toml
	SetOffMachine []byte
)

// BenchSetOff draws that bench.
func BenchSetOff(seed uint64) World {
	w := Bench(seed)
	w.Readout = Readout{On: true, Step: pointStep, ZeroX: draw{stream(seed, streamSetup)}.either(pointAway)}
	return w
}

// BenchPoints draws the bench with readouts on X and Y and an edge finder of 6 mm in the spindle, which stands
// somewhere within the bore.
func BenchPoints(seed uint64) World {
	w := Bench(seed)
	d := draw{stream(seed, streamSetup)}
	w.TipDiameter, w.AngleNoise = pointTip, float64(pointAngle*geom.Degree)
	w.Readout = Readout{On: true, Step: pointStep, ZeroX: d.either(pointAway), ZeroY: d.either(pointAway), Guess: pointGuess}
	off := d.disc(w.ReferenceRadius / 2)
	w.Start = Truth{CentreX: off.X, CentreY: off.Y}
	return w
}
