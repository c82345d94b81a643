package lines

import (
	"fmt"
	"math"
	"strings"

	"example.org/trammel/geom"
	"example.org/trammel/indicator"
	"example.org/trammel/indicator/advice"
	"example.org/trammel/indicator/record"
	"example.org/trammel/indicator/session"
	"example.org/trammel/indicator/slide"
)

// SuspectLine says that the last trial's winds did not do what job and machine say, and what would explain it. Went and
// Should are what they did to the level (the radius), and to the centre along x and y.
type SuspectLine struct {
	Say    string           `json:"say"`
	Trial  int              `json:"trial"`
	Went   [3]record.Number `json:"went"`
	Should [3]record.Number `json:"should"`
	Causes []Stated         `json:"causes"`
	unit   geom.Unit
}

// Stated is one statement that would explain it: which, of which slides, by how many degrees of a ring's zero, and
// what would have to be other: by its key in the file, which was so and would be so, all null where no file says it.
type Stated struct {
	Cause  advice.Fault  `json:"cause"`
	Slides []string      `json:"slides"`
	Turn   record.Number `json:"turn"`
	Key    *string       `json:"key"`
	Was    *string       `json:"was"`
	Is     *string       `json:"is"`
	Change string        `json:"change"`
}

func suspect(s *session.State, u geom.Unit) (l SuspectLine, ok bool) {
	x, ok := s.Suspicion()
	if !ok {
		return l, false
	}
	l = SuspectLine{Say: "suspect", Trial: s.Trial, unit: u}
	for i := range 3 {
		l.Went[i], l.Should[i] = record.Number(u.From(x.Went[i])), record.Number(u.From(x.Should[i]))
	}
	l.Causes = stated(s, s.Causes(x))
	return l, true
}

// stated puts causes into the form of a line.
func stated(s *session.State, all []session.Cause) []Stated {
	out := make([]Stated, len(all))
	for i, c := range all {
		out[i] = Stated{Cause: c.Fault, Slides: append([]string{}, c.Slides...), Turn: record.Number(nan), Change: changeWords(s, c)}
		if c.Fault == advice.ZeroFault {
			out[i].Turn = record.Number(c.Turn)
		}
		if c.Key != "" {
			out[i].Key, out[i].Was, out[i].Is = &c.Key, &c.Was, &c.Is
		}
	}
	return out
}

// changeWords says what would have to be other.
func changeWords(s *session.State, c session.Cause) string {
	ring := s.SetUp().Swung
	switch c.Fault {
	case advice.TouchFault:
		other := indicator.Boss
		if s.Set.Job.Setup.Touch == indicator.Boss {
			other = indicator.Bore
		}
		return fmt.Sprintf("touch = %q in the job file, unless the dial counts the other way round than stated, which looks the same "+
			"(sense tip tells: press the tip)", other)
	case advice.ScrewFault:
		change := make([]string, len(c.Slides))
		for i, n := range c.Slides {
			sl, _ := s.Set.Machine.Slide(n)
			change[i] = fmt.Sprintf("clockwise = %q under [slide.%s]", -sl.Clockwise, n)
		}
		return strings.Join(change, " and ") + " in the machine file"
	case advice.RingFault:
		other := slide.Clockwise
		if s.Ring().Figures == slide.Clockwise {
			other = slide.Anticlockwise
		}
		return fmt.Sprintf("sense = %q under [%s] in the machine file", other, ring)
	case advice.ZeroFault:
		return fmt.Sprintf("zero under [%s] in the machine file, off by about %s", ring,
			record.Degrees(math.Round(math.Abs(c.Turn))))
	case advice.ExchangeFault:
		return fmt.Sprintf("%s and %s, taken for each other", SlideName(c.Slides[0]), SlideName(c.Slides[1]))
	case advice.UnmovedFault:
		return SlideName(c.Slides[0]) + " did not move: clamped, or not wound"
	case advice.DialFault:
		return "the dial counts the other way round: type every reading with the other sign"
	case advice.NoFault, advice.EitherFault, advice.BearingsFault: // no wind tells these
	}
	return writeWords(s, c.Key, c.Is)
}

// changes lists what would have to be other.
func (l SuspectLine) changes() string {
	return numbered(l.Causes, "; or ")
}

// Text: see [Line].
func (l SuspectLine) Text() string {
	show := func(v [3]record.Number) string {
		n := func(x record.Number) string { return geom.FormatSigned(float64(x), geom.Places(0, l.unit)) }
		return fmt.Sprintf("centre x %s, y %s, radius %s", n(v[1]), n(v[2]), n(v[0]))
	}
	return fmt.Sprintf("the winds moved the %s %v, where it should have gone by %s: something is stated wrong. It would fit: %s",
		show(l.Went), l.unit, strings.TrimPrefix(show(l.Should), "centre "), l.changes())
}

// SuspectWords is that in short, for a screen; empty where nothing is suspected.
func SuspectWords(s *session.State, u geom.Unit) string {
	l, ok := suspect(s, u)
	if !ok {
		return ""
	}
	return "the last winds went astray: " + l.changes() + "? g checks the signs, z puts one right"
}
