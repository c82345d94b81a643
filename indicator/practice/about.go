package practice

import (
	_ "embed" // for the files

	"example.org/trammel/geom"
)

// The files of the benches whose arc has nothing to sweep about its own centre: under the head, and on a rotary table.
var (
	//go:embed bench-about-job.toml
	AboutJob []byte
	//go:embed bench-about-machine.toml
	AboutMachine []byte
	//go:embed bench-about-table-job.toml
	AboutTableJob []byte
	//go:embed bench-about-table-machine.toml
	AboutTableMachine []byte
)

// How an arc lies to the reference that is swept, and how well that is known (common practice, no source).
const (
	aboutAngle  = 1.5   // degrees, the drawing to the slides, as those jobs state it
	aboutEdge   = 0.006 // degrees, what clocking an edge has left open, either way
	aboutSquare = 1e-4  // what two slides are out of square, either way
	aboutLeast  = 15.0  // mm, the shortest way that is drawn
	aboutMost   = 60.0  // and the longest
)

// BenchAbout draws the bench under the head.
func BenchAbout(seed uint64) World {
	w := Bench(seed)
	w.about(draw{stream(seed, streamSetup)}, geom.Point{X: 46, Y: -28}, aboutAngle)
	return w
}

// BenchAboutTable draws the one on the table.
func BenchAboutTable(seed uint64) World {
	w := BenchTable(seed)
	w.about(draw{stream(seed, streamSetup)}, geom.Point{X: -30, Y: 24}, aboutAngle)
	return w
}

// about lets the arc's centre stand away from the reference's: by a way of the drawing, turned by the angle that is stated,
// degrees, and by what nobody knows of it.
func (w *World) about(d draw, way geom.Point, angle float64) {
	w.SkewX, w.SkewY = 0, d.either(aboutSquare)
	w.Readout = Readout{On: true, Step: pointStep, ZeroX: d.either(pointAway), ZeroY: d.either(pointAway)}
	w.Away = rotated(way, float64(geom.Bearing(angle+d.either(aboutEdge))*geom.Degree))
}

// drawAbout draws where the arc's centre stands, and what the job says of it.
func drawAbout(seed uint64, w *World, stated *statement) {
	d := draw{stream(seed, streamSetup)}
	way := scaled(geom.Bearing(d.either(180)*float64(geom.Degree)).Unit(), d.between(aboutLeast, aboutMost))
	at := geom.Point{X: d.either(aboutMost), Y: d.either(aboutMost)}
	angle := d.either(180)
	w.about(d, way, angle)
	stated.about = &aboutStated{at, at.Add(way), angle}
}

// aboutStated is what the owner states of it: both places of the drawing, mm, and its angle, degrees.
type aboutStated struct {
	reference, centre geom.Point
	angle             float64
}
