package practice

import (
	"math"
	"math/rand/v2"

	"example.org/trammel/geom"
)

// The ways in which a needle can show nothing.
const (
	Pressed = "pressed" // the plunger is driven in beyond the dial's range
	Free    = "free"    // the plunger hangs out beyond the dial's range, or touches nothing
)

// World is a machine, an indicator and a reference as they truly are, which nobody in a shop
// ever knows. Bench draws one; a test writes its own.
type World struct {
	// Bore says that the metal is outside the circle and the tip presses outwards, from inside
	// (a bore, a ring); otherwise the metal is inside and the tip presses inwards, from outside
	// (a boss, a plug).
	Bore            bool
	ReferenceRadius float64 // mm
	Reach           float64 // spindle's axis to contact point at dial zero, mm; + away from the head axis
	TipDiameter     float64 // ball of the tip, mm; 0 is a point
	LeverAngle      float64 // between lever and surface, rad; the needle shows tip travel / cos

	Graduation         float64 // one division of the dial, mm
	ReadsTo            float64 // the needle is read to this part of a division; 0 reads it exactly
	RangeFrom, RangeTo float64 // where the dial ends, mm; both 0 is a dial without end
	Noise              float64 // standard deviation of a reading, mm
	AngleNoise         float64 // standard deviation of the hand's setting of the head, rad
	HandNoise          float64 // standard deviation of the hand's setting of a collar, divisions

	Offset, X, Y Slide   // X and Y are table_x and table_y where there is a table
	SkewX, SkewY float64 // how far these two are turned counter-clockwise from their names, rad
	Table        Table
	Readout      Readout // on X and Y, where circles are touched instead of swept
	Hammer       Hammer  // instead of X and Y, where the work lies loose on the table
	OffsetMiss   float64 // how far the offset slide's line passes to the left of the head axis, mm
	RingZero     float64 // how far head or table is turned counter-clockwise of what its ring says, rad
	Start        Truth   // where things stand before the first wind, as the sweep sees it

	// Away is where the centre of the arc that is to be cut lies, seen from the reference's and in the work's own frame, mm.
	Away geom.Point

	// The reference is not quite round: its surface lies farther out than ReferenceRadius by both.
	TwoLobe, ThreeLobe Lobe
	// The sweep is taken SweepHeight above the cut. Down there the reference's centre lies aside of
	// where the sweep meets it by LeanX and LeanY of that height, and the swing radius is larger by
	// SpindleLean of it.
	SweepHeight, LeanX, LeanY, SpindleLean float64
}

// Lobe is a wave that goes a whole number of times round the reference: its height above the mean
// radius, mm, and the bearing of a crest, rad.
type Lobe struct{ Height, At float64 }

// at is how far a lobe of n waves stands out at a bearing, mm.
func (l Lobe) at(n float64, b geom.Bearing) float64 {
	return float64(l.Height * math.Cos(float64(n*(float64(b)-l.At))))
}

// Truth is what an acceptance is judged by: where the machine truly stands, at the height of the cut.
type Truth struct {
	Swing            float64 // head axis to spindle axis, mm
	CentreX, CentreY float64 // where the arc's centre, most often the reference's, lies, seen from the axis and in the work's frame, mm
}

// Needle is what the dial shows: a reading in mm, or in Off the way in which it shows none
// (Pressed or Free; Reading is then 0).
type Needle struct {
	Reading float64
	Off     string
}

// Machine is a World at work. It is not safe for several goroutines at once.
type Machine struct {
	world        World
	offset, x, y *screw
	head         geom.Bearing // where the offset slide's line points
	along        float64      // where the spindle stood on that line at the start, mm
	raised       float64      // how far above its usual height the sweep is taken, mm
	table        float64      // how far the table is turned counter-clockwise, rad
	knocked      geom.Point   // how far the work has been tapped, in the table's own frame, mm
	guess        *geom.Point  // where the hand that touches takes the middle to be, beside the true one

	// Separate streams, so that one more look at the dial does not change how the hand winds.
	needle, hand, angle, lock, knock *rand.Rand

	cutter float64 // true diameter, − where it cuts a hollow; 0: none

	// Hand is how the hands wind; the zero value is Parked.
	Hand Hand

	reads, misreads int // how many stations the hands have read, and at which of these they misread; 0: at none
}

// Second words of the generators' seeds: one stream for each thing that chance decides.
const (
	streamNeedle = 1 + iota
	streamHand
	streamAngle
	streamPlay
	streamBench
	streamLock
	streamDraw
	streamTable
	streamKnock
	streamSetup
	streamTrap
	streamTremble
	streamNext = 1000 // and one more for each setting that follows on a machine
)

type chance = *rand.Rand

func stream(seed, which uint64) chance { return rand.New(rand.NewPCG(seed, which)) }

// New sets the machine up as w.Start says, the spindle at bearing 0 and the nut of every slide
// somewhere within its play. The same world, seed and doings give the same readings.
func New(w World, seed uint64) *Machine {
	play := stream(seed, streamPlay)
	m := &Machine{
		world:  w,
		offset: newScrew(w.Offset, play),
		x:      newScrew(w.X, play),
		y:      newScrew(w.Y, play),
		needle: stream(seed, streamNeedle),
		hand:   stream(seed, streamHand),
		angle:  stream(seed, streamAngle),
		lock:   stream(seed, streamLock),
		knock:  stream(seed, streamKnock),
	}
	// Pythagoras; a swing smaller than the miss cannot be had, the miss itself is the least.
	square := float64(w.Start.Swing*w.Start.Swing) - float64(w.OffsetMiss*w.OffsetMiss)
	m.along = math.Sqrt(max(square, 0))
	if m.face(0); w.Table.Turned {
		m.head = geom.Bearing(w.Table.Stands) // the machine's slide, which no hand swings
		m.turnTable(m.ring(w.Table.Stands))
	}
	return m
}

// Truth returns where the machine truly stands now.
func (m *Machine) Truth() Truth {
	w := &m.world
	lean := scaled(geom.Point{X: w.LeanX, Y: w.LeanY}, w.SweepHeight+m.raised)
	c := rotated(m.centre().Sub(m.axis()), -m.table).Add(lean).Add(w.Away)
	return Truth{Swing: m.arm().Norm() + float64(w.SpindleLean*w.SweepHeight), CentreX: c.X, CentreY: c.Y}
}

// Raise has the next readings taken by so much above the usual height of the sweep, millimetres.
func (m *Machine) Raise(by float64) { m.raised = by }

// Swing turns the head by hand until the line from the head axis through the spindle (not the
// slide's line) points to bearing b by its ring, as nearly as the hand sets an angle. Winding the offset
// slide afterwards leaves the head where it stands, and a slide that misses the head axis then
// carries the spindle off the bearing a little. A bearing that is no number moves nothing.
func (m *Machine) Swing(b geom.Bearing) {
	if math.IsNaN(float64(b)) || math.IsInf(float64(b), 0) {
		return
	}
	m.face(b + geom.Bearing(m.world.RingZero) + geom.Bearing(m.world.AngleNoise*m.angle.NormFloat64()))
}

// face turns the head so that the spindle lies exactly at bearing b.
func (m *Machine) face(b geom.Bearing) {
	slideLine := geom.Point{X: m.along + m.offset.stands(), Y: m.world.OffsetMiss}
	m.head = (b - slideLine.Bearing()).Normalized()
}

// axis is where the axis of the head, or of the table, stands; the origin is where it stood first.
func (m *Machine) axis() geom.Point {
	if m.world.Table.Turned {
		return geom.Point{}
	}
	return m.carried()
}

// centre is the reference's centre: fixed, or carried by the slides on the table and round with it.
func (m *Machine) centre() geom.Point {
	c := geom.Point{X: m.world.Start.CentreX, Y: m.world.Start.CentreY}.Sub(scaled(geom.Point{X: m.world.LeanX, Y: m.world.LeanY},
		m.raised))
	if m.world.Table.Turned {
		return rotated(c.Add(m.carried()).Add(m.knocked), m.table)
	}
	return c
}

// arm is the vector from the head axis to the spindle.
func (m *Machine) arm() geom.Point {
	line := m.head.Unit()
	left := geom.Point{X: -line.Y, Y: line.X}
	return scaled(line, m.along+m.offset.stands()).Add(scaled(left, m.world.OffsetMiss))
}

// Dial lets the tip touch once more and reads the needle; every call has its own noise. The
// spindle has been rocked to the turning point: the tip lies on the line from the head axis
// through the spindle.
func (m *Machine) Dial() Needle { return m.read(m.quiet() + m.touch()) }

// touch is the error of one contact of the tip.
func (m *Machine) touch() float64 { return float64(m.world.Noise * m.needle.NormFloat64()) }

// quiet returns where the needle would stand without noise, rounding or an end of the dial, in
// mm: +Inf where the whole line is metal, −Inf where no metal lies on it.
func (m *Machine) quiet() float64 {
	w := &m.world
	arm := m.arm()
	outwards := arm.Bearing().Unit()
	press, clear := outwards, w.ReferenceRadius-w.TipDiameter/2
	if !w.Bore {
		press, clear = scaled(outwards, -1), w.ReferenceRadius+w.TipDiameter/2
	}
	tip := m.axis().Add(scaled(outwards, arm.Norm()+w.Reach)) // contact point at dial zero
	ball := tip.Sub(scaled(press, w.TipDiameter/2))           // the ball's centre is behind it

	// From there the plunger can still run out by so much before the ball meets the metal; it is
	// pressed in when that is less than nothing.
	runsOut, met := m.touches(ball.Sub(m.centre()), press, clear)
	switch {
	case met:
		return -runsOut / math.Cos(w.LeverAngle)
	case w.Bore:
		return math.Inf(1)
	default:
		return math.Inf(-1)
	}
}

// touches is meet on the reference as it is, lobes and all. Where the ball touches decides how far out
// the surface lies there, and the other way round; the lobes are so flat that every round settles
// three digits more.
func (m *Machine) touches(from, press geom.Point, clear float64) (float64, bool) {
	w := &m.world
	out, met := meet(from, press, clear, w.Bore)
	if w.TwoLobe.Height == 0 && w.ThreeLobe.Height == 0 {
		return out, met
	}
	for range 4 {
		if !met {
			break
		}
		b := from.Add(scaled(press, out)).Bearing() - geom.Bearing(m.table)
		out, met = meet(from, press, clear+w.TwoLobe.at(2, b)+w.ThreeLobe.at(3, b), w.Bore)
	}
	return out, met
}

// meet returns how far along the unit vector way a point that starts at from has to go to lie on
// the circle of the given radius about the origin; where it leaves the circle, or else where it
// enters it. The distance is the root of |from + t·way|² = radius², and negative where the point
// has gone too far already. It is false where the line passes the circle by.
func meet(from, way geom.Point, radius float64, leaves bool) (float64, bool) {
	halfB := from.Dot(way)
	c := from.Dot(from) - float64(radius*radius)
	discriminant := float64(halfB*halfB) - c
	if !(discriminant >= 0) || radius < 0 {
		return 0, false
	}
	if leaves {
		return -halfB + math.Sqrt(discriminant), true
	}
	return -halfB - math.Sqrt(discriminant), true
}

// read turns the needle's place into what a person reads.
func (m *Machine) read(needle float64) Needle {
	from, to := m.world.RangeFrom, m.world.RangeTo
	if from == 0 && to == 0 {
		from, to = -math.MaxFloat64, math.MaxFloat64
	}
	if step := m.world.Graduation * m.world.ReadsTo; step > 0 && !math.IsInf(needle, 0) {
		needle = float64(math.Round(needle/step) * step)
		// 57 steps of 0.002 are to read 0.114 and not 0.11400000000000002; nor is there a −0.
		needle = math.Round(needle*1e9)/1e9 + 0
	}
	switch {
	case needle > to:
		return Needle{Off: Pressed}
	case needle >= from:
		return Needle{Reading: needle}
	default:
		return Needle{Off: Free}
	}
}

// scaled returns k·p. As everywhere here, a product that goes into a sum is converted, so that no
// compiler fuses the two and amd64 and arm64 practise on the same machine.
func scaled(p geom.Point, k float64) geom.Point {
	return geom.Point{X: float64(k * p.X), Y: float64(k * p.Y)}
}
