package practice

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
)

// Slide is a slide and its handwheel as they truly are.
type Slide struct {
	TravelPerTurn      float64 // what the collar calls one turn, mm
	Divisions          float64 // of the collar, in one turn
	ClockwiseIncreases bool    // a clockwise turn makes the slide's coordinate grow
	Backlash           float64 // the whole play between nut and slide, mm of the slide
	Stick              float64 // how far it hangs back before it follows its nut, with a jump, mm
	Gain               float64 // what the slide moves for 1 mm of the collar; 1 is a true screw
	Wobble             float64 // what the screw is out by once in every turn, ±, mm
	WobbleAt           float64 // how far round that stands at the start, rad
	LockShift          float64 // what clamping moves the slide by every time, mm of its coordinate
	LockNoise          float64 // standard deviation of what it moves it by beside that, mm
}

// Move is one movement of a handwheel, as it is told: which way, seen facing the handle, and how
// far by the collar. Divisions may be more than a turn of them.
type Move struct {
	Clockwise bool
	Turns     int
	Divisions float64
}

// mostTurns is a bound on one movement that no slide of a bench machine is long enough for.
const mostTurns = 1000

// errNotReached says that the needle did not come to the figure that was watched for.
var errNotReached = errors.New("needle did not come to the figure")

// screw is a slide at work.
type screw struct {
	Slide
	collar float64 // how far the hand has turned, mm as the collar counts; + makes the coordinate grow
	first  float64 // where the nut stood within the play when collar was 0, mm
	at     float64 // how far the slide has truly gone, mm
	shift  float64 // what the clamp holds it aside by, mm; 0 while it is open
	shut   bool    // the clamp is
}

// stands is how far the slide stands from where it stood at the start, mm.
func (s *screw) stands() float64 { return s.at + s.shift }

// newScrew puts the nut anywhere within the play, the slide standing at 0.
func newScrew(s Slide, play *rand.Rand) *screw {
	return &screw{Slide: s, first: s.Backlash * (play.Float64() - 0.5)}
}

// carry turns the hand to the given collar place without turning back on the way. The slide
// follows as it must: it never stands farther than half the play from the nut, and it never
// moves unless it is pushed; one that sticks, by more than that.
func (s *screw) carry(collar float64) {
	s.collar = collar
	nut := s.first + float64(s.Gain*collar) + s.wobbles(collar)
	if low := nut - s.Backlash/2; s.at < low-s.Stick {
		s.at = low
	}
	if high := nut + s.Backlash/2; s.at > high+s.Stick {
		s.at = high
	}
}

// wobbles is what the periodic error of the screw adds to where the nut stands, 0 at the start.
func (s *screw) wobbles(collar float64) float64 {
	if s.Wobble == 0 {
		return 0
	}
	turn := float64(2*math.Pi*collar) / s.TravelPerTurn
	return float64(s.Wobble * (math.Sin(turn+s.WobbleAt) - math.Sin(s.WobbleAt)))
}

// way is +1 for a turn that makes the coordinate grow, else −1.
func (s *screw) way(clockwise bool) float64 {
	if clockwise == s.ClockwiseIncreases {
		return 1
	}
	return -1
}

// length of a movement, mm as the collar counts, never negative.
func (s *screw) length(m Move) (float64, error) {
	if m.Turns < 0 {
		return 0, fmt.Errorf("%d turns, need 0 or more", m.Turns)
	}
	if !(m.Divisions >= 0) || math.IsInf(m.Divisions, 0) {
		return 0, fmt.Errorf("%g divisions, need a number of 0 or more", m.Divisions)
	}
	turns := float64(m.Turns) + m.Divisions/s.Divisions
	if turns > mostTurns {
		return 0, fmt.Errorf("%g turns in one movement, need at most %d", turns, mostTurns)
	}
	return turns * s.TravelPerTurn, nil
}

// slideNames are the slides, in the order of a World.
func slideNames(turned bool) [3]string {
	if turned {
		return [...]string{"offset", "table_x", "table_y"}
	}
	return [...]string{"offset", "x", "y"}
}

func (m *Machine) names() [3]string { return slideNames(m.world.Table.Turned) }

// screw finds a slide by name and refuses one that cannot be wound.
func (m *Machine) screw(name string) (*screw, error) {
	names := m.names()
	i := slices.Index(names[:], name)
	if i < 0 {
		return nil, fmt.Errorf("slide %q, need %s, %s or %s", name, names[0], names[1], names[2])
	}
	s := [...]*screw{m.offset, m.x, m.y}[i]
	for _, must := range []struct {
		what  string
		value float64
	}{{"travel per turn", s.TravelPerTurn}, {"divisions", s.Divisions}, {"gain", s.Gain}} {
		if !(must.value > 0) || math.IsInf(must.value, 0) {
			return nil, fmt.Errorf("slide %q: %s %g, need a number above 0", name, must.what, must.value)
		}
	}
	if !(s.Backlash >= 0) || math.IsInf(s.Backlash, 0) {
		return nil, fmt.Errorf("slide %q: backlash %g, need a number of 0 or more", name, s.Backlash)
	}
	return s, nil
}

// Turn winds a slide ("offset", "x" or "y", with a table "table_x" or "table_y") by its collar: one call is one wind, and the collar
// is zeroed where the hand begins. The hand aims at the figures that the moves add up to, counted
// from there, and every movement ends beside its figure by an error of its own, so that errors do
// not add up within a wind. A movement never runs backwards: one that finds itself past its
// figure already stays there. On an error nothing has moved.
func (m *Machine) Turn(slide string, moves ...Move) error {
	s, err := m.screw(slide)
	if err != nil {
		return err
	}
	for i, move := range moves {
		if _, err := s.length(move); err != nil {
			return fmt.Errorf("slide %q: move %d: %w", slide, i+1, err)
		}
	}
	division := s.TravelPerTurn / s.Divisions
	figure := s.collar
	for _, move := range moves {
		length, _ := s.length(move) // looked at above
		if length == 0 {
			continue
		}
		way := s.way(move.Clockwise)
		figure += float64(way * length)
		end := figure + float64(m.world.HandNoise*division*m.hand.NormFloat64())
		if (end-s.collar)*way > 0 {
			s.carry(end)
		}
	}
	return nil
}

// place brings a slide to where it is wanted, by hand and eye, in one movement: the nut ends at the side of its
// play that pushed last. The collar's place is found by going round, for the wobble is small.
func (s *screw) place(at float64) {
	nut := at + math.Copysign(s.Backlash/2, at-s.at)
	collar := s.collar
	for range 40 {
		collar = (nut - s.first - s.wobbles(collar)) / s.Gain
	}
	s.carry(collar)
}

// lockSlide clamps a slide, which moves it a little; unlockSlide lets it go back.
func (m *Machine) lockSlide(slide string) error {
	s, err := m.screw(slide)
	if err != nil {
		return err
	}
	s.clamp(m.lock)
	return nil
}

func (s *screw) clamp(lock chance) {
	s.shift, s.shut = s.LockShift+float64(s.LockNoise*lock.NormFloat64()), true
}

// lockRest clamps the slides that are still open, as they have to be for the cut.
func (m *Machine) lockRest() {
	for _, s := range []*screw{m.x, m.y, m.offset} {
		if !s.shut {
			s.clamp(m.lock)
		}
	}
}

// clampForSweep shuts all clamps once one is shut: a slide that needed no wind is clamped too before the
// sweep that judges it.
func (m *Machine) clampForSweep() {
	if m.offset.shut || m.x.shut || m.y.shut {
		m.lockRest()
	}
}

// unlockSlide opens a slide's clamp.
func (m *Machine) unlockSlide(slide string) error {
	s, err := m.screw(slide)
	if err != nil {
		return err
	}
	s.shift, s.shut = 0, false
	return nil
}

// watch winds a slide one way under the eye, the head parked and the indicator touching: it
// creeps on by a tenth of a division at a time until stop says that the needle is there. It asks
// before the first step too. The tip stays in contact, so that its noise is one and the same all
// the way (common practice, no source: a dial repeats better on one approach than on two); the
// reading after locking is a Dial of its own. After the given number of turns it gives up with
// an error that wraps errNotReached; the slide stays where it has come to.
func (m *Machine) watch(slide string, clockwise bool, turns float64, stop func(Needle) bool) error {
	s, err := m.screw(slide)
	if err != nil {
		return err
	}
	if !(turns > 0) || turns > mostTurns {
		return fmt.Errorf("slide %q: watched for %g turns, need above 0 and at most %d", slide, turns, mostTurns)
	}
	if stop == nil {
		return fmt.Errorf("slide %q: watched for no figure, need one to stop at", slide)
	}
	touch, begin := m.touch(), s.collar
	step := s.way(clockwise) * s.TravelPerTurn / s.Divisions / 10
	steps := int(math.Ceil(turns * s.Divisions * 10))
	for i := 0; !stop(m.read(m.quiet() + touch)); i++ {
		if i == steps {
			return fmt.Errorf("slide %q: %w within %g turns", slide, errNotReached, turns)
		}
		s.carry(begin + float64(float64(i+1)*step))
	}
	return nil
}

// collar returns how far a slide's handwheel stands from where it stood at the start, in
// divisions, clockwise positive: what a hand with good eyes reads off the ring.
func (m *Machine) collar(slide string) (float64, error) {
	s, err := m.screw(slide)
	if err != nil {
		return 0, err
	}
	return s.way(true) * s.collar * s.Divisions / s.TravelPerTurn, nil
}
