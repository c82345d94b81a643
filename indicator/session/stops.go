package session

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator/part"
	"example.org/trammel/indicator/setup"
)

// Seen is what the head's or the table's ring showed in the pass by hand where the swing began and where it stopped, degrees; nil
// where nobody has read it.
type Seen struct {
	Start *float64 `json:"start,omitempty"`
	Stop  *float64 `json:"stop,omitempty"`
}

// SeeRing says what the ring showed at the start and at the stop of the pass by hand, degrees.
type SeeRing struct{ Start, Stop float64 }

func (SeeRing) row() *CommandRow { return seeRing }

var seeRing = command[SeeRing]{word: "ring", forms: []Phrase{{"ring START STOP", "what the ring showed at the start and at the stop"}},
	example: "like 340.4 19.8", keys: []string{"@"}, label: "ring shows", parse: parseSeeRing, field: asked(parseSeeRing), figures: 2,
	shown:  func(n *Now) bool { return n.Stops },
	not:    func(n *Now) string { return unless(n.Stops, "no stops are swung to") },
	always: true, decide: func(s *State, c SeeRing) (Event, error) {
		q, ok := s.question().(choreAsked)
		if !ok || !s.asksStops(q.chore) {
			return nil, refuse(s.hint(), "no stops are swung to, and no ring is read")
		}
		return s.seen(q.chore, Seen{Start: &c.Start, Stop: &c.Stop})
	},
}.row()

// parseSeeRing reads two figures of a ring, degrees. The error is a *[Refusal].
func parseSeeRing(text string, _ geom.Unit) (c SeeRing, err error) {
	const like = "ring START STOP, like ring 340.4 19.8"
	fields := strings.Fields(text)
	if len(fields) != 2 {
		return c, refuse(like, "%d figures, need what the ring showed at the start and at the stop", len(fields))
	}
	for i, to := range []*float64{&c.Start, &c.Stop} {
		if *to, err = geom.ParseNumber(fields[i]); err != nil {
			return c, refuse(like, "%v", err)
		}
	}
	return c, nil
}

// Stops are where the swing of the setting's arc begins and where it stops; ok is false where no drawing says, of a full circle, and
// of settings whose order knows of none.
func (s *State) Stops() (stops part.Stops, ok bool) {
	if s.Set == nil || s.Set.Arc == nil || !s.Set.Steps || s.Set.Order < cutOrder {
		return stops, false
	}
	return s.Set.Arc.Stops(s.SetUp().Under().Table, setup.LieOf(&s.Set.Job, &s.Set.Machine).Turned, s.Ring())
}

// dry is the pass by hand, with the stops set for it where there are any.
func (s *State) dry(pass Chore) []Chore {
	if _, ok := s.Stops(); ok {
		return []Chore{SetStops, pass}
	}
	return []Chore{pass}
}

// asksStops reports whether a step asks where the swing stopped, by a ring that shows it.
func (s *State) asksStops(c Chore) bool {
	if c != DrySwing && c != DryTurn {
		return false
	}
	stops, ok := s.Stops()
	return ok && stops.Ring.Reads() > 0
}

// seen judges what the ring showed: where the swing went too far, or not far enough, the stop has to be moved, and nothing is taken.
func (s *State) seen(c Chore, seen Seen) (Event, error) {
	stops, _ := s.Stops()
	for _, e := range []struct {
		name  string
		stop  *part.Stop
		shows *float64
	}{{"start", &stops.Start, seen.Start}, {"stop", &stops.Stop, seen.Stop}} {
		if e.shows == nil {
			continue
		}
		if err := figured(stops.Ring, *e.shows); err != nil {
			return nil, err
		}
		if err := s.missed(&stops, e.stop, e.name, *e.shows); err != nil {
			return nil, err
		}
	}
	return Worked{Step: c, Seen: &seen}, nil
}

// figured refuses a figure that the ring cannot show.
func figured(r setup.Ring, shows float64) error {
	mark := figureOf(geom.Bearing(r.Marked()).Degrees(), 4)
	switch spelt := strconv.FormatFloat(shows, 'f', -1, 64); {
	case !(shows >= 0 && shows <= 360):
		return refuse("read the ring again, or confirm without it", "ring %s° is no figure of a ring, need 0 to 360", spelt)
	case math.Abs(shows-rounded(shows, r.Places())) > 1e-9:
		return refuse(fmt.Sprintf("type %s", figureOf(shows, r.Places())),
			"ring %s° is finer than the ring is read: it shows %s°, read to %s°; need no finer a figure", spelt, mark,
			figureOf(geom.Bearing(r.Reads()).Degrees(), 4))
	}
	return nil
}

func rounded(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}

// figureOf spells a figure of degrees without needless digits.
func figureOf(v float64, places int) string {
	return strconv.FormatFloat(rounded(v, places), 'f', -1, 64)
}

// missed refuses a stop that is out of its window, and says what it would spoil and where it has to be.
func (s *State) missed(stops *part.Stops, e *part.Stop, name string, shows float64) error {
	m := stops.Seen(e, shows)
	if !m.Past && !m.Short {
		return nil
	}
	u, places := s.Set.Job.Unit, stops.Ring.Places()
	at := func(b geom.Bearing) string {
		return fmt.Sprintf("%s° (%s %v at the cutter)", figureOf(b.Degrees(), 2), geom.FormatFixed(u.From(float64(b)*stops.Swing), 3), u)
	}
	depth := func(mm float64) string {
		return fmt.Sprintf("%s %v", geom.FormatFixed(u.From(mm), geom.Places(mm/10, u)), u)
	}
	seen := fmt.Sprintf("ring %s° at the %s is ", figureOf(shows, places), name)
	hint := fmt.Sprintf("move the stop to ring %s°, swing again and type what it shows; or skip", figureOf(stops.Shows(e), places))
	if e.Hard {
		hint = fmt.Sprintf("a hard stop is needed there: move the block, measured, about ring %s°, swing again and type what it shows; or skip",
			figureOf(stops.Shows(e), places))
	}
	if m.Past {
		why := seen + at(m.Beyond) + " beyond it, need no more than " + at(*e.Window.Past)
		if deep := s.Set.Arc.Gouge(s.Set.Outline, e, m.Beyond, stops.Turned); deep > stops.LetPass {
			why += ": the cutter would gouge " + depth(deep) + ", and " + depth(stops.LetPass) + " is let pass"
		}
		return refuse(hint, "%s", why)
	}
	why := seen + at(-m.Beyond) + " short of it, need no more than " + at(e.Window.Short)
	if m.Proud > 0 {
		why += ": about " + depth(m.Proud) + " would stand proud, and " + depth(stops.LetPass) + " is let pass"
	}
	return refuse(hint, "%s", why)
}

// check refuses figures where no swing stops, and what is no figure.
func (e *Seen) check(c Chore) error {
	switch {
	case e == nil:
		return nil
	case c != DrySwing && c != DryTurn:
		return fmt.Errorf("step %q with what a ring showed, need none", c)
	case slices.ContainsFunc([]*float64{e.Start, e.Stop}, func(v *float64) bool { return v != nil && !(*v >= 0 && *v <= 360) }):
		return fmt.Errorf("step %q with a ring that showed no 0 to 360", c)
	}
	return nil
}
