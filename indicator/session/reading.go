package session

import (
	"cmp"
	"errors"
	"slices"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/setup"
)

// Place is a point by the readouts of x and y, millimetres.
type Place struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Took: a reading was taken. Bearing is where the reference is met, radians; Reading is
// millimetres.
type Took struct {
	Bearing geom.Bearing `json:"bearing"`
	Reading float64      `json:"reading"`
	// At is what the readout showed where the tip touched, in setup points; null else. Bearing then is about
	// where that was to be, seen from the middle.
	At *Place `json:"at,omitempty"`
	// Again is the station (from 1) whose reading this one replaces; 0 for a new station.
	Again int `json:"again,omitempty"`
	// Corrected says that the value proposed for a doubted reading was taken, and the dial not
	// read again.
	Corrected bool `json:"corrected,omitempty"`
	// Gauge is where it comes from; zero where it was typed.
	Gauge Gauged `json:"gauge,omitzero"`
}

// Take enters what the dial shows at the station that is asked for, millimetres; or what else is asked for as one number.
type Take struct {
	Reading float64
	// Gauge is set of one that an indicator with a cable has sent.
	Gauge Gauged
}

func (Took) row() *EventRow   { return reading }
func (Take) row() *CommandRow { return take }

var reading = event[Took]{kind: "reading", undo: "the reading", quick: quickTook,
	met: func(_ *State, e Took) (stood, bool) { return stood{at: e.Bearing}, true },
	check: func(e Took) error {
		if e.Corrected && e.Again == 0 {
			return errors.New("corrected without again, need the station that was in doubt")
		}
		return e.Gauge.check()
	},
	fits: func(s *State, e Took) error {
		switch pair := s.SetUp().Under().Pair; {
		case pair && e.At == nil:
			return errors.New("a reading without coordinates, need the two where a tip touched")
		case !pair && e.At != nil:
			return errors.New("the coordinates of a point, need a reading of the dial")
		}
		return cmp.Or(isBearing(e.Bearing), s.hasStation(e.Again, 0), s.shows(e.Reading))
	},
	apply: func(s *State, e Took) {
		s.put(s.entered(e), e.Again)
		s.trembles(e.Gauge)
		if e.At != nil {
			s.stop(geom.Point(*e.At))
		}
	},
	anew: func(s *State, e Took, change *Change) (Command, string) {
		if s.Doubt == nil && e.Again > 0 {
			return nil, ""
		}
		why := s.otherThan(e.Bearing)
		switch {
		case change != nil && change.Out:
			return Skip{}, why
		case e.At != nil: // a point has two numbers, of which a change knows one: it can be left out only
			return TouchPoint{geom.Point(*e.At)}, why
		case change != nil:
			return Take{Reading: change.Reading}, why
		}
		return Take{Reading: e.Reading, Gauge: e.Gauge}, why
	},
}.row()

var take = command[Take]{decide: decideTake}.row()

func quickTook(payload []byte) (e Took, ok bool) {
	c := cursor{rest: payload}
	c.take(`{"bearing":`)
	e.Bearing = geom.Bearing(c.number())
	c.take(`,"reading":`)
	e.Reading = c.number()
	if c.has(`,"at":{"x":`) {
		e.At = &Place{X: c.number()}
		c.take(`,"y":`)
		e.At.Y = c.number()
		c.take("}")
	}
	if c.has(`,"again":`) {
		e.Again = c.whole()
	}
	e.Corrected = c.has(`,"corrected":true`)
	e.Gauge = c.gauged()
	c.take("}")
	return e, c.done()
}

// sweepQuestion is what an open sweep asks.
func (s *State) sweepQuestion() question {
	if s.Sweep.Drift != nil {
		return driftAsked{}
	}
	if s.Contradiction != nil {
		return sizeAsked{}
	}
	b, ok := s.NextBearing()
	switch {
	case s.Doubt == nil && s.nowhere():
		return backAsked{}
	case !ok:
		return stuckAsked{}
	case s.SetUp().Under().Pair:
		return pointAsked{stationAsked{bearing: b}}
	}
	return stationAsked{bearing: b}
}

// stationAsked: the reading where the reference is met at a bearing.
type stationAsked struct {
	unanswered
	bearing geom.Bearing
}

func (q stationAsked) prompt(s *State) Prompt {
	p := q.entry(s)
	p.meet(s, q.bearing)
	return Prompt{Waits: ForReading, Reading: p}
}

// entry is what is asked of a station, or of a point.
func (q stationAsked) entry(s *State) ReadingAsked {
	n, planned := s.Sweep.N+1, s.Plan().Stations
	if s.rounds() && s.Sweep.Entries() >= planned && !s.Sweep.Closing && s.Doubt == nil {
		planned *= 2 // its twin is taken whole
	}
	p := ReadingAsked{Station: n, Of: max(n, planned), Bearing: q.bearing,
		Expected: s.Expect(q.bearing), Closing: s.Sweep.Closing}
	if s.Doubt != nil {
		p.Station, p.Of = s.Doubt.Station, max(s.Sweep.N, planned)
		p.Again, p.Doubt = true, *s.Doubt
	}
	return p
}

func (q stationAsked) number(s *State, reading float64) (Event, error) {
	if err := s.checkDial(reading, "if the needle is off the dial, say so (off pressed, off free)"); err != nil {
		return nil, err
	}
	return Took{Bearing: q.bearing, Reading: reading, Again: s.again()}, nil
}

func (q stationAsked) skip(s *State, off Off) (Event, error) {
	return Skipped{Bearing: q.bearing, Off: off, Again: s.again()}, nil
}

func (stationAsked) hint(s *State) string {
	if s.Doubt != nil {
		return "read the station once more, or keep its reading, or skip it"
	}
	return "take the reading that is asked for"
}

// stuckAsked: no circle fits the readings, and no station is left to ask for.
type stuckAsked struct{ unanswered }

func (stuckAsked) prompt(*State) Prompt { return Prompt{Waits: ForAgain} }

func (q stuckAsked) number(s *State, v float64) (Event, error) {
	if s.SetUp().Under().Pair {
		return pointAsked{}.number(s, v)
	}
	return q.unanswered.number(s, v)
}

func (stuckAsked) hint(*State) string { return "undo what is wrong, or begin the sweep again" }

// checkDial refuses a reading that the dial cannot show.
func (s *State) checkDial(reading float64, hint string) error {
	d, u := s.Set.Job.Dial, s.Set.Job.Unit
	err := d.Check(reading)
	var beyond *indicator.RangeError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &beyond):
		return refuse(hint, "reading %.6g %v is off the dial, need %.6g to %.6g %v", u.From(reading), u, u.From(d.From), u.From(d.To), u)
	}
	return refuse("", "%v", err)
}

// put adds an entry to the sweep, as far as there is room, or replaces the station that was asked
// for once more.
func (s *State) put(st Station, again int) {
	if !st.Skipped {
		s.Sweep.Taken++
		st.Order = s.Sweep.Taken
	}
	if again > 0 {
		if old := s.station(again); old != nil {
			st.Asked, st.Closing = true, old.Closing
			*old = st
		}
		s.Doubt = nil
		s.judgeAnew()
		return
	}
	st.Closing, s.Sweep.Closing = s.Sweep.Closing, false
	if s.Sweep.N < indicator.MaxStations {
		s.Sweep.Stations = append(slices.Clip(s.Sweep.Stations), st)
		s.Sweep.N++
	}
}

// station returns an entry of the sweep by its number from 1, to be changed; nil where there is none.
func (s *State) station(n int) *Station {
	if n < 1 || n > s.Sweep.N {
		return nil
	}
	s.Sweep.own()
	return &s.Sweep.Stations[n-1]
}

// entered makes a station's entry of a reading, or of a point: how far it came from what could be expected, and
// whether that is more than chance allows.
func (s *State) entered(e Took) Station {
	st := Station{Bearing: e.Bearing, Reading: e.Reading, Gauge: e.Gauge}
	if e.At != nil {
		st.At = geom.Point(*e.At)
	}
	x, dof := s.expect(e.Bearing)
	j := s.SetUp().Entered(&s.Set.Job, s.others(s.again()), setup.Entry{Bearing: st.Bearing, Reading: st.Reading, At: st.At},
		setup.Expected{Value: x, Dof: dof, As: s.setup()})
	st.OffBy, st.Surprise, st.Because, st.WouldBe = j.OffBy, j.Surprise, j.Because, j.WouldBe
	return st
}

// stop takes in where the spindle stood when the tip touched.
func (s *State) stop(p geom.Point) {
	s.stands(StoodAt{"x", p.X})
	s.stands(StoodAt{"y", p.Y})
}
