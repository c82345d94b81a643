package practice

import (
	"math"
	"strconv"
	"sync"
	"time"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/session"
)

// How the needle of a cable indicator moves, and what that shows (common practice, no source).
const (
	// LiveRate is how often a second it sends.
	LiveRate = 25

	liveFigure = 0.001                           // its last figure, mm
	liveTravel = 0.1                             // how far it still goes beyond its range, mm
	liveAtRest = 0.0005                          // how much it trembles where nothing moves, standard deviation, mm
	liveShaken = 0.02                            // and while head or table is swung, mm
	liveStick  = 0.002                           // how far a slide hangs back before it follows its screw, mm
	liveSwing  = geom.Bearing(120 * geom.Degree) // how far the hand swings the head, or turns the table, in a second
	longestGap = 250 * time.Millisecond          // what the time between two samples counts for at most: a program may have been stopped
)

// Live is a machine at which a cable indicator is watched while a person works it: the head, or the table, takes its time to
// where it is wanted, and the handwheels turn as they are turned. It has no clock: time goes by with the samples. It is safe for
// several goroutines.
//
// The tip's contact has one error for as long as it rests, as in [Machine], beside which the needle trembles. Its clamps stay
// as they are: those of the practice benches move nothing.
type Live struct {
	mu      sync.Mutex
	m       *Machine
	tremble chance

	last  time.Time // of the newest sample
	touch float64   // the error of the tip's contact, mm
	goal  pose      // where head and table are wanted
	going bool      // they are not there yet
	done  Handled
}

// pose is how the head and the table stand.
type pose struct{ head, table geom.Bearing }

// Watch has a machine watched. What the seed decides of it belongs to it alone: the machine reads as it does unwatched.
func Watch(m *Machine, seed uint64) *Live {
	for _, s := range []*screw{m.offset, m.x, m.y} {
		s.Stick = liveStick
	}
	l := &Live{m: m, tremble: stream(seed, streamTremble), touch: m.touch()}
	l.goal = l.pose()
	return l
}

func (l *Live) pose() pose { return pose{l.m.head, geom.Bearing(l.m.table)} }

func (l *Live) stand(p pose) { l.m.head, l.m.table = p.head, float64(p.table) }

// Ask has the head swung, or the table turned, to where a session's question wants it, and the hand begin with it.
func (l *Live) Ask(p session.Prompt) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.arrive()
	stood := l.pose()
	l.m.Stand(p)
	l.goal, l.going, l.done = l.pose(), l.pose() != stood, Handled{}
	l.stand(stood)
}

// arrive ends a swing that is under way.
func (l *Live) arrive() {
	if l.going {
		l.stand(l.goal)
		l.going, l.touch = false, l.m.touch()
	}
}

// swing goes on with it by so many seconds.
func (l *Live) swing(seconds float64) {
	most := geom.Bearing(float64(liveSwing) * seconds)
	towards := func(at, goal geom.Bearing) (geom.Bearing, bool) {
		left := (goal - at).Normalized()
		if math.Abs(float64(left)) <= float64(most) {
			return goal, true
		}
		return at + geom.Bearing(math.Copysign(float64(most), float64(left))), false
	}
	at := l.pose()
	head, there := towards(at.head, l.goal.head)
	table, stands := towards(at.table, l.goal.table)
	if there && stands {
		l.arrive()
		return
	}
	l.stand(pose{head, table})
}

// Needle is what the indicator shows at a time, millimetres, to its last figure. Beyond its range it stands at its stop.
func (l *Live) Needle(now time.Time) float64 {
	l.mu.Lock()
	defer l.mu.Unlock()
	var gap time.Duration
	if !l.last.IsZero() {
		gap = min(max(now.Sub(l.last), 0), longestGap)
	}
	l.last = now
	trembles := liveAtRest
	if l.going {
		l.swing(gap.Seconds())
		trembles = liveShaken
	}
	v := l.m.quiet() + l.touch + float64(trembles*l.tremble.NormFloat64())
	if w := &l.m.world; w.RangeFrom != 0 || w.RangeTo != 0 {
		v = min(max(v, w.RangeFrom-liveTravel), w.RangeTo+liveTravel)
	}
	return math.Round(v/liveFigure)*liveFigure + 0 // no −0
}

// Line is what the indicator sends at a time: a sign, the figure, CR and LF.
func (l *Live) Line(now time.Time) []byte {
	v := l.Needle(now)
	out := make([]byte, 0, 16)
	if v >= 0 {
		out = append(out, '+')
	}
	return append(strconv.AppendFloat(out, v, 'f', 3, 64), '\r', '\n')
}

// Effort is how much the hand does at once: a touch, a little, a lot.
type Effort uint8

// The efforts.
const (
	Touch Effort = iota
	Little
	Lot
)

// efforts are how far a handle is turned then, divisions of its collar, and by how much a tap is meant to drive the work, mm.
var efforts = [...]struct{ Divisions, Tap float64 }{Touch: {0.1, 0.01}, Little: {1, 0.05}, Lot: {10, 0.25}}

// Divisions are by how much of its collar a handle is turned.
func (e Effort) Divisions() float64 { return efforts[e].Divisions }

// Hand turns the handle that a question tells, clockwise or back; or taps the work, towards the indicator or away from it.
func (l *Live) Hand(p session.Prompt, e Effort, forward bool) (Handled, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if p.Wind.How == session.ByTap {
		if err := l.m.tap(forward, efforts[e].Tap); err != nil {
			return l.done, err
		}
		l.done.Taps++
		return l.done, nil
	}
	told, _ := p.Handwheel()
	s, err := l.m.screw(told.Name)
	if err != nil {
		return l.done, err
	}
	by := efforts[e].Divisions
	if !forward {
		by = -by
	}
	s.carry(s.collar + float64(s.way(true)*by*s.TravelPerTurn)/s.Divisions)
	l.done.Turned = true
	l.done.Divisions += by
	return l.done, nil
}

// Handled is what the hand has done since its question was asked.
type Handled struct {
	Turned    bool    // a handle
	Divisions float64 // by how much in all, clockwise positive
	Taps      int
}

// Do is [Machine.Do], but for what the person does: where the needle tells a wind or a tap, or a handle has been turned, what is
// wound is what the person has wound.
func (l *Live) Do(p session.Prompt) (c session.Command, ok bool, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.arrive()
	if ByHand(p) && (p.Needle() || l.done.Turned) {
		return session.Confirm{}, true, nil
	}
	c, ok, err = l.m.Do(p)
	l.touch, l.goal = l.m.touch(), l.pose()
	return c, ok, err
}

// ByHand reports whether a question is answered by turning a handle or tapping the work, and by nothing else.
func ByHand(p session.Prompt) bool {
	return p.Waits == session.ForLoad || p.Waits == session.ForWind && p.Wind.How != session.ByCoordinate && !p.Wind.Reads
}

// Sense is [Machine.Sense].
func (l *Live) Sense(s *session.State, name string) (session.Command, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.arrive()
	defer func() { l.goal = l.pose() }()
	return l.m.Sense(s, name)
}

// Raise is [Machine.Raise].
func (l *Live) Raise(by float64) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.m.Raise(by)
}
