package practice

import (
	_ "embed" // for the two files
	"math"

	"example.org/trammel/geom"
)

// BenchJob is the job file of the practice bench, as a user would write it.
//
//go:embed bench-job.toml
var BenchJob []byte

// BenchMachine is the machine file of the practice bench: what its owner believes of it. The
// true play, pitch and offset of every bench differ.
//
//go:embed bench-machine.toml
var BenchMachine []byte

// TableJob and TableMachine are the same for the bench with a rotary table.
var (
	//go:embed bench-table-job.toml
	TableJob []byte
	//go:embed bench-table-machine.toml
	TableMachine []byte
)

// How far the true bench strays from what its files say.
const (
	benchSwingOff   = 0.35  // mm, either way, at the start
	benchCentreOff  = 0.30  // mm, any direction, at the start
	benchPlayLeast  = 0.05  // mm
	benchPlayMost   = 0.20  // mm
	benchGainSpread = 0.003 // standard deviation of a screw's pitch, relative
	benchMiss       = 1.5   // mm, either side
	benchSquare     = 0.5   // degrees that the slides on a table are out of square, either way
)

// Bench draws a practice bench: the machine and the job of BenchJob and BenchMachine, the same
// for every seed, with true errors that belong to the seed. Wherever the head is swung at the
// start, the needle stays on the dial. Reference radius, reach and lever are truly what the job
// says: an error there is the same at every station, and no sweep could show it.
//
// The errors of hand and screw are common practice, no source.
func Bench(seed uint64) World {
	chance := stream(seed, streamBench)
	either := func(limit float64) float64 { return limit * (2*chance.Float64() - 1) }
	slide := func(perTurn, divisions float64, clockwiseIncreases bool) Slide {
		return Slide{
			TravelPerTurn:      perTurn,
			Divisions:          divisions,
			ClockwiseIncreases: clockwiseIncreases,
			Backlash:           benchPlayLeast + (benchPlayMost-benchPlayLeast)*chance.Float64(),
			Gain:               1 + benchGainSpread*chance.NormFloat64(),
		}
	}
	w := World{
		Bore:            true,
		ReferenceRadius: 30,
		Reach:           -12,
		Graduation:      0.01,
		ReadsTo:         0.2,
		RangeFrom:       -0.8,
		RangeTo:         0.8,
		Noise:           0.003,
		AngleNoise:      float64(0.1 * geom.Degree),
		HandNoise:       0.1,
		Offset:          slide(2, 100, true),
		X:               slide(2, 100, true),
		Y:               slide(4, 200, false), // left-hand screw
		OffsetMiss:      either(benchMiss),
	}
	// The root spreads the centre evenly over the disc.
	off := scaled(geom.Bearing(either(math.Pi)).Unit(), benchCentreOff*math.Sqrt(chance.Float64()))
	w.Start = Truth{Swing: 42 + either(benchSwingOff), CentreX: off.X, CentreY: off.Y}
	return w
}

// BenchTable draws the bench with a rotary table, of TableJob and TableMachine: the bench of the seed,
// its cross slides now on the table and a little out of square.
func BenchTable(seed uint64) World {
	w := Bench(seed)
	w.Table = Table{Turned: true, Stands: float64(90 * geom.Degree), RingClockwise: true}
	w.SkewY = float64(geom.Bearing(benchSquare*(2*stream(seed, streamTable).Float64()-1)) * geom.Degree)
	return w
}
