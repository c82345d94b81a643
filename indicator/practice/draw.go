package practice

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
)

// Options say what a drawn machine has beside the usual errors.
type Options struct {
	// Coarse starts up to 2 mm out in radius and centre: at some stations, or at all, the needle is
	// off the dial.
	Coarse bool
	// Locks clamps every slide once it stands, which moves it.
	Locks bool
	// Settings is how many settings are made on each machine one after the other, its slides moved away
	// in between; the last of them is counted. 0 is one.
	Settings int

	// Turned draws a rotary table with cross slides on it instead of the head that is swung.
	Turned bool
	// SetOff draws a spindle that is stood over a table's axis and carried off it by X, by its readout.
	SetOff bool
	// About draws an arc that has nothing to sweep about its own centre, and readouts on X and Y.
	About bool

	// Taps draws that table without slides: the work lies loose on it and is tapped into place. Points draws a machine
	// with readouts, on which the circle is touched instead of swept.
	Taps, Points bool

	// Trap is what the machine has that its files do not say, or say wrong.
	Trap Trap

	// byCollar says in the machine file that no handwheel can be wound with the dial in view.
	byCollar bool
}

// Drawn is a machine of the convergence bench as it truly is, and the files that its owner would write
// of it: nominal figures, limits, and what a patient person can measure.
type Drawn struct {
	World
	Want         Want
	Job, Machine []byte
	settings     int // to be made on it, one after the other
}

// Want is what the job asks for, mm: the swing radius with its tolerance, plus or minus, and how far
// the centre may lie from the head axis. Swing is 0 where only the centre is brought in.
type Want struct {
	Swing, Tolerance, CentreTolerance float64
	// SetOff: the swing radius is the distance of the head axis from the centre, which is a table's axis.
	SetOff bool
}

// met reports whether a machine truly stands where it is wanted.
func (w Want) met(t Truth) bool {
	if w.SetOff {
		return math.Abs(math.Hypot(t.CentreX, t.CentreY)-w.Swing) <= w.Tolerance
	}
	return (w.Swing == 0 || math.Abs(t.Swing-w.Swing) <= w.Tolerance) && math.Hypot(t.CentreX, t.CentreY) <= w.CentreTolerance
}

// The ranges that the machines of the convergence bench are drawn from, evenly unless it is said
// otherwise. They are those of old but sound machines (common practice, no source).
const (
	drawSwingOff, drawCentreOff = 0.35, 0.30 // at the start, mm: the radius either way, the centre in a disc
	drawCoarseOff               = 2.0        // both, with a coarse start, mm

	drawPlayLeast, drawPlayMost = 0.02, 0.30 // backlash, mm
	drawPlayKnown               = 0.30       // how far off the stated backlash is, of itself
	drawGain                    = 0.003      // pitch error, either way, relative
	drawWobble                  = 0.005      // most amplitude of the periodic screw error, mm
	drawMiss                    = 0.5        // offset slide's line beside the head axis, either way, mm
	drawHand                    = 0.1        // standard deviation of a collar setting, divisions

	drawNoiseLeast, drawNoiseMost = 0.001, 0.005 // standard deviation of a reading, mm
	drawRepeats                   = 9            // readings that the stated repeatability comes from
	drawAngle                     = 0.3          // standard deviation of a station's angle, degrees
	drawRing                      = 2.0          // head ring's zero, either way, degrees

	drawKnown       = 0.003  // reference radius and reach, either way, mm; stated as limits
	drawLobe        = 0.002  // most height of the two-lobe and of the three-lobe wave, mm; stated as a limit
	drawSweepHeight = 10.0   // above the cut, mm
	drawLean        = 0.0002 // how far axes lean, in a disc or either way, ratio; stated as a limit

	drawSquare     = 0.5 // a table's cross slides out of square, either way, degrees
	drawSlideAngle = 3.3 // stated limit of either's angle: ring, square, and what the offset slide's miss makes

	drawLock      = 0.02  // what a clamp moves its slide by every time, either way, mm
	drawLockNoise = 0.002 // standard deviation of what it moves it by beside that, mm
)

// What a drawn job wants, and its nominal geometry, mm: at the target the dial reads zero.
const (
	drawSwing, drawTolerance      = 42.0, 0.02
	drawReference, drawReach      = 30.0, -12.0
	drawStations, drawFewest      = 5, 4 // of five, neither an oval nor a three-jaw squeeze passes for a centre error
	drawRevolution, drawDialRange = 1.0, 1.6
)

// Draw draws the machine of a seed. What it is out by belongs to the seed alone, not to the options,
// except where it starts and what its clamps do.
//
// An error of the reference's radius or of the reach is the same at every station, so no sweep shows
// it: the job states both as limits, and its budget has to cover them. Its dial shows what is there, and the job says so.
func Draw(seed uint64, o Options) Drawn {
	d := draw{stream(seed, streamDraw)}
	o.Turned = o.Turned || o.Taps
	w := World{
		Bore:            true,
		ReferenceRadius: drawReference + d.either(drawKnown),
		Reach:           drawReach + d.either(drawKnown),
		Graduation:      0.01,
		ReadsTo:         0.2,
		RangeFrom:       -drawDialRange / 2,
		RangeTo:         drawDialRange / 2,
		Noise:           d.between(drawNoiseLeast, drawNoiseMost),
		AngleNoise:      float64(drawAngle * geom.Degree),
		HandNoise:       drawHand,
		OffsetMiss:      d.either(drawMiss),
		RingZero:        float64(geom.Bearing(d.either(drawRing)) * geom.Degree),
		TwoLobe:         d.lobe(),
		ThreeLobe:       d.lobe(),
		SweepHeight:     drawSweepHeight,
		SpindleLean:     d.either(drawLean),
	}
	if d.chance.IntN(2) == 0 {
		w.Graduation = 0.002
	}
	lean := d.disc(drawLean)
	w.LeanX, w.LeanY = lean.X, lean.Y
	w.Offset, w.X, w.Y = d.slide(2, 100, true), d.slide(2, 100, true), d.slide(4, 200, false) // y is left-hand
	var stated statement
	stated.repeats = d.repeats(&w)
	for i, s := range []*Slide{&w.Offset, &w.X, &w.Y} {
		stated.play[i] = s.Backlash * (1 + d.either(drawPlayKnown))
		s.LockShift, s.LockNoise = d.either(drawLock), drawLockNoise
		if !o.Locks {
			s.LockShift, s.LockNoise = 0, 0
		}
	}
	swing, centre := drawSwingOff, drawCentreOff
	if o.Coarse {
		swing, centre = drawCoarseOff, drawCoarseOff
	}
	off := d.disc(centre)
	if o.Turned {
		d.table(&w)
	}
	w.Start = Truth{Swing: drawSwing + d.either(swing), CentreX: off.X, CentreY: off.Y}
	if o.Taps {
		w.hammer()
	}
	if o.SetOff {
		drawSetOff(seed, &w)
	}
	if o.About {
		drawAbout(seed, &w, &stated)
	}
	if o.Points {
		return drawPoints(seed, w, &stated, o)
	}
	out := Drawn{
		World:    w,
		Want:     Want{drawSwing, drawTolerance, drawTolerance, o.SetOff},
		Job:      stated.job(&w, o),
		Machine:  stated.machine(&w, o),
		settings: o.Settings,
	}
	out.Job = o.Trap.Lay(seed, &out.World, out.Job)
	return out
}

// draw is the chance that draws a machine.
type draw struct{ chance chance }

func (d draw) between(least, most float64) float64 {
	return least + float64((most-least)*d.chance.Float64())
}

func (d draw) either(limit float64) float64 { return d.between(-limit, limit) }

// disc is a point spread evenly over a disc about 0; the root does that.
func (d draw) disc(radius float64) geom.Point {
	return scaled(geom.Bearing(d.either(math.Pi)).Unit(), float64(radius*math.Sqrt(d.chance.Float64())))
}

func (d draw) lobe() Lobe { return Lobe{Height: d.between(0, drawLobe), At: d.either(math.Pi)} }

// table draws where the indicator stands, the table's ring, and how far its slides are out of square.
func (d draw) table(w *World) {
	w.Table = Table{
		Turned:        true,
		Stands:        float64(geom.Bearing(math.Round(d.either(180))) * geom.Degree),
		RingClockwise: d.chance.IntN(2) == 0,
		RingAt:        float64(geom.Bearing(math.Round(d.either(180))) * geom.Degree),
	}
	w.SkewY = float64(geom.Bearing(d.either(drawSquare)) * geom.Degree)
}

func (d draw) slide(perTurn, divisions float64, clockwiseIncreases bool) Slide {
	return Slide{
		TravelPerTurn:      perTurn,
		Divisions:          divisions,
		ClockwiseIncreases: clockwiseIncreases,
		Backlash:           d.between(drawPlayLeast, drawPlayMost),
		Gain:               1 + d.either(drawGain),
		Wobble:             d.between(0, drawWobble),
		WobbleAt:           d.either(math.Pi),
	}
}

// repeats is the standard deviation of nine readings at one place, as the owner read them. Where the
// marks hide the spread he takes the half of what he can read, for nobody repeats better than that.
func (d draw) repeats(w *World) float64 {
	step := float64(w.Graduation * w.ReadsTo)
	place := d.either(step / 2) // where the needle stands between what can be read
	sum, squares := 0.0, 0.0
	for range drawRepeats {
		read := float64(math.Round((place+float64(w.Noise*d.chance.NormFloat64()))/step) * step)
		sum, squares = sum+read, squares+float64(read*read)
	}
	spread := math.Sqrt(max(0, squares-float64(sum*sum)/drawRepeats) / (drawRepeats - 1))
	return max(spread, step/2)
}

// statement is what the owner states of a machine, mm: the repeatability and, in the order offset, x,
// y, the backlash.
type statement struct {
	repeats float64
	play    [3]float64
	about   *aboutStated // nil where the arc stands about the reference
}

func (s *statement) job(w *World, o Options) []byte {
	kind := `"carried"`
	if o.Turned {
		kind = fmt.Sprintf("\"turned\"\nindicator_bearing = %v", degrees(w.Table.Stands))
	}
	reach, off := fmt.Sprintf("reach = %v\nreach_error = %v\n", drawReach, drawKnown), ""
	if o.SetOff {
		reach, off = "", "set_off_by = \"x\"\n"
	}
	if a := s.about; a != nil {
		reach += fmt.Sprintf("reference_at = [%v, %v]\nangle = %v\nangle_error = %v\nslide_error_per_100 = 0\nsquare_per_100 = %v\n",
			a.reference.X, a.reference.Y, a.angle, aboutEdge, aboutSquare*100)
		off = fmt.Sprintf("centre_at = [%v, %v]\n", a.centre.X, a.centre.Y)
	}
	return fmt.Appendf(nil, `# Practice: plate of a bench-drill belt tensioner, one of many drawn at random.
unit = "mm"
[setup]
kind = %s
touch = "bore"
reference_radius = %v
reference_radius_error = %v
reference_form_error = %v
%stilt_per_100 = %v
sweep_height = %v
[target]
swing_radius = %v
tolerance = %v
centre_tolerance = %v
%s[sweep]
stations = %d
at_least = %d
[dial]
graduation = %v
revolution = %v
range = %v
error = 0
reads_to = %v
angle_error = %v
repeatability = %.4f
`, kind, drawReference, drawKnown, drawLobe, reach, drawLean*100, drawSweepHeight, drawSwing, drawTolerance, drawTolerance, off,
		drawStations, drawFewest, w.Graduation, drawRevolution, drawDialRange, w.ReadsTo, drawAngle, s.repeats)
}

func (s *statement) machine(w *World, o Options) []byte {
	var b strings.Builder
	b.WriteString("name = \"practice mill drawn at random\"\nunit = \"mm\"\n")
	if o.Turned {
		sense := "anticlockwise"
		if w.Table.RingClockwise {
			sense = "clockwise"
		}
		fmt.Fprintf(&b, "[table]\nzero = %v\nsense = %q\ngraduation = 1\n", degrees(w.Table.RingAt), sense)
	}
	for i, name := range slideNames(o.Turned) {
		is := []*Slide{&w.Offset, &w.X, &w.Y}[i]
		way := "decrease" // the last movement is a clockwise one everywhere
		if is.ClockwiseIncreases {
			way = "increase"
		}
		fmt.Fprintf(&b, "[slide.%s]\ntravel_per_turn = %v\ndivisions = %v\nclockwise = %q\ntake_up = %q\nbacklash = %.3f\nlock = "+
			"%v\nby_collar = %v\nreadout = %v\n",
			name, is.TravelPerTurn, is.Divisions, way, way, s.play[i], o.Locks, o.byCollar,
			((o.Points || o.About) && i > 0) || (o.SetOff && i == 1))
		if o.Taps {
			break // the offset slide is the machine's own
		}
		if o.Turned && i > 0 {
			fmt.Fprintf(&b, "bearing_error = %v\n", drawSlideAngle)
		}
	}
	return []byte(b.String())
}

// degrees writes an angle that was drawn in whole degrees.
func degrees(rad float64) float64 { return math.Round(rad * 180 / math.Pi) }
